// Numbers as people type them, gentle questions about unusual ones, and the next step.

import assert from 'node:assert/strict';
import { test } from 'node:test';

import { measure, openExample, station } from './lab-page.mjs';
import { during } from './session.mjs';

const apparatus = (page) => station(page, 'Apparatus');
const drum = (page) => apparatus(page).getByLabel('drum radius R', { exact: true });
const ofDrum = (page) => apparatus(page).getByLabel('standard uncertainty u(R) of the drum radius');
const field = (page) => apparatus(page).locator('.field').filter({ has: page.getByLabel('drum radius R', { exact: true }) });

test('a value and its uncertainty may be typed in one go, in any unit of length, with either mark', () =>
  during(async (page) => {
    for (const [typed, value, u] of [
      ['2.5 cm ± 0.03 mm', '25', '0.03'],
      ['0,0253 m', '25.3', '0.03'],
      ['(25.1 ± 0.2) mm', '25.1', '0.2'],
      ['25.40(5)', '25.4', '0.05'],
    ]) {
      await drum(page).fill(typed);
      assert.equal(await ofDrum(page).inputValue(), u, typed);
      assert.equal(await drum(page).inputValue(), typed, 'what is typed stands there while it is typed');
      await drum(page).blur();
      if (/[±(]/.test(typed)) assert.equal(await drum(page).inputValue(), value, typed);
    }
    await drum(page).fill('25 ± half');
    await field(page).getByText('“half” is not a number').waitFor();
  }));

test('an unusual number is asked about at once and taken all the same', () =>
  during(async (page) => {
    await openExample(page);
    const asked = () => field(page).locator('.question').first().innerText();
    assert.equal(await asked(), '');
    await drum(page).fill('25 m');
    assert.match(await asked(), /^25 m is a lot for a drum radius\. Did you mean 25\smm\?/);
    await drum(page).fill('25');
    assert.equal(await asked(), '');
    await ofDrum(page).fill('20');
    await field(page).getByText('u is more than a quarter of the value').waitFor();
    const mass = station(page, 'Runs').getByLabel('hanging mass of empty, 15 g', { exact: false }).first();
    await mass.fill('150 kg');
    await station(page, 'Runs').getByText(/150 kg is a lot for a hanging mass\. Did you mean 150\sg\?/).waitFor();
    assert.equal(await mass.getAttribute('aria-invalid'), null);
  }));

test('the page says what comes next, and leads there', () =>
  during(async (page) => {
    const next = page.locator('.next a');
    assert.match(await next.innerText(), /^Begin with the safety card/);
    assert.equal(await next.getAttribute('href'), '#apparatus');
    await measure(apparatus(page), 'drum radius', 'R', '25', '0.03');
    assert.match(await next.innerText(), /string.s diameter/);
    await measure(apparatus(page), 'string diameter', 'd', '1', '0.05');
    assert.match(await next.innerText(), /^Take your first runs/);
    assert.equal(await next.getAttribute('href'), '#runs');
  }));

test('with everything there the next step is the claim', () =>
  during(async (page) => {
    await openExample(page);
    assert.match(await page.locator('.next a').innerText(), /decide what you may claim/);
    for (const name of ['Apparatus', 'Comparison']) {
      assert.ok(await station(page, name).evaluate((section) => section.classList.contains('done')), name);
    }
  }));

test('a value opens its working, and each link behind it, back to the readings', () =>
  during(async (page) => {
    await openExample(page);
    const object = station(page, 'Object alone');
    await object.locator('button.worked').first().click();
    const working = object.locator('details.working').first();
    await working.locator('ol.steps').waitFor();
    assert.ok(await working.locator('summary').first().evaluate((summary) => summary === document.activeElement));
    const open = async (within, name) => {
      const link = within.locator('details.link').filter({ has: page.locator('summary', { hasText: name }) }).first();
      await link.locator('> summary').click();
      return link;
    };
    const line = await open(working, 'Line of “slate disc”');
    const run = await open(line, 'Run “slate, 50 g”');
    const readings = await open(run, 'Readings of “slate, 50 g”');
    assert.match(await readings.innerText(), /66 gate times in [\d.]+\ss; used from/);
    assert.match(await run.innerText(), /Effective radius/);
  }));

test('a working is copied as text, whole chain and all', async () => {
  const { browser, host } = await import('./session.mjs');
  const { visit } = await import('./lab-page.mjs');
  const { page, context } = await visit(browser, host, { permissions: ['clipboard-read', 'clipboard-write'] });
  await openExample(page);
  const working = station(page, 'Object alone').locator('details.working').first();
  await working.locator('> summary').click();
  await working.getByRole('button', { name: 'Copy all of it, back to the readings' }).click();
  await working.getByText('Copied.').waitFor();
  const text = await page.evaluate(() => navigator.clipboard.readText());
  assert.match(text, /^“slate disc” alone: /);
  assert.match(text, /R_e = R \+ d\/2/);
  assert.match(text, /Readings of “empty, 50 g”: 67 gate times/);
  await context.close();
});
