// Lab files that this program did not save like this: older, newer and damaged ones.

import assert from 'node:assert/strict';
import { readFile } from 'node:fs/promises';
import { test } from 'node:test';

import { SIZES, tooWide, violations } from './inspection.mjs';
import { news, openLab, problem, saveLab, station, stationState } from './lab-page.mjs';
import { during } from './session.mjs';

const version = (n) => readFile(new URL(`../labs/versions/v${n}.json`, import.meta.url), 'utf8');
const asFile = (name, content) => ({ name, mimeType: 'application/json', buffer: Buffer.from(content) });

const offer = (page) => page.getByRole('button', { name: 'Open what can be saved' });
const lost = (page) => page.getByRole('region', { name: 'What was lost' });

/** The sample of this version as a newer program might have written it. */
const newer = async () => (await version(3)).replace('"version":3', '"version":7,"weather":{"rain":[1,"a"]}');

test('a lab of each older version opens and is saved as one of this version', () =>
  during(async (page) => {
    for (const [n, runs] of [[1, 23], [2, 14]]) {
      await openLab(page, asFile(`v${n}.json`, await version(n)));
      await news(page).filter({ hasText: `${runs} runs` }).waitFor();
      assert.equal(JSON.parse((await saveLab(page)).text).version, 3);
    }
  }));

test('a lab of a newer Whorl is looked at, locked, and saved as the same bytes', () =>
  during(async (page) => {
    const text = await newer();
    await openLab(page, asFile('newer.json', text));
    const card = page.getByRole('region', { name: 'Made by a newer Whorl' });
    await card.filter({ hasText: '(version 7; this one knows 3). You can look at it; to change it, reload the page' }).waitFor();
    assert.equal(await page.evaluate(() => document.activeElement.textContent), 'Made by a newer Whorl');
    await station(page, 'Comparison').waitFor();
    for (const label of ['Title of this lab', 'drum radius R', 'string diameter d', 'Notes']) {
      assert.ok(await page.getByLabel(label, { exact: label !== 'Notes' }).first().evaluate((field) => field.readOnly), label);
    }
    // What is entered past the lock is taken back at once.
    const title = page.getByLabel('Title of this lab');
    const before = await title.inputValue();
    await title.evaluate((field) => {
      field.value = 'Mine';
      field.dispatchEvent(new Event('input', { bubbles: true }));
    });
    await page.waitForFunction((was) => document.querySelector('.lab-title input').value === was, before);
    assert.equal(await page.getByText(/not saved (yet|as a file yet)$/).isVisible(), false);
    assert.equal((await saveLab(page)).text, text);
  }));

test('of a lab that is cut off, what is whole is opened, and what is lost is listed', () =>
  during(async (page) => {
    const text = (await version(1)).slice(0, 12000);
    await openLab(page, asFile('cut.json', text));
    await problem(page).filter({ hasText: /^cut\.json, line \d+, column \d+: / }).waitFor();
    await offer(page).click();
    await lost(page).filter({ hasText: /line \d+, column \d+: at runs\[\d+\]/ }).waitFor();
    assert.equal(await page.evaluate(() => document.activeElement.textContent), 'What was lost');
    await page.getByRole('banner').getByText('not saved').waitFor();
    assert.equal(await offer(page).count(), 0);
    const saved = JSON.parse((await saveLab(page)).text);
    const whole = JSON.parse(await version(1));
    assert.ok(saved.runs.length > 5, `${saved.runs.length} runs`);
    saved.runs.forEach((run, index) => assert.deepEqual(run.readings, whole.runs[index].readings));
    await lost(page).getByRole('button', { name: 'Close this list' }).click();
    assert.equal(await lost(page).count(), 0);
  }));

test('bytes that are no text are told, and the rest can be opened', () =>
  during(async (page) => {
    const text = await version(1);
    const bytes = Buffer.from(text);
    bytes[text.indexOf('slate disc')] = 0xff;
    await openLab(page, asFile('bytes.json', bytes));
    await offer(page).click();
    await lost(page).filter({ hasText: 'not UTF-8 text' }).waitFor();
    await stationState(page, 'Runs', '23 runs').waitFor();
  }));

test('where nothing can be saved nothing is offered, and an offer goes with its message', () =>
  during(async (page) => {
    await openLab(page, asFile('cut.json', (await version(1)).slice(0, 9000)));
    await offer(page).waitFor();
    await openLab(page, asFile('recipe.json', '{"format":"recipe"'));
    await problem(page).filter({ hasText: 'recipe.json' }).waitFor();
    assert.equal(await offer(page).isVisible(), false);
    await openLab(page, asFile('v1.json', await version(1)));
    await news(page).filter({ hasText: '23 runs' }).waitFor();
    assert.equal(await offer(page).isVisible(), false);
  }));

for (const [where, size] of Object.entries(SIZES)) {
  test(`axe-core finds nothing on newer and damaged labs ${where}, and nothing is too wide`, () =>
    during(async (page) => {
      await openLab(page, asFile('newer.json', await newer()));
      await page.getByRole('region', { name: 'Made by a newer Whorl' }).waitFor();
      await station(page, 'Comparison').waitFor();
      assert.deepEqual(await violations(page), []);
      await openLab(page, asFile('cut.json', (await version(1)).slice(0, 12000)));
      await offer(page).waitFor();
      assert.deepEqual(await violations(page), []);
      await offer(page).click();
      await lost(page).waitFor();
      assert.deepEqual(await violations(page), []);
      assert.deepEqual(await tooWide(page), { beyond: 0, wide: [] });
    }, size));
}
