// The report: written, printed, saved as a file that stands alone, set beside the lab file by a fingerprint.

import assert from 'node:assert/strict';
import { createHash } from 'node:crypto';
import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { test } from 'node:test';

import { listenForErrors } from './browser.mjs';
import { SIZES, violations } from './inspection.mjs';
import { openExample, openLab, problem, saveLab, station, stationState, textOf, visit } from './lab-page.mjs';
import { browser, during, host } from './session.mjs';

const PROMPTS = [/What did you find/, /Do the measured/, /largest source of uncertainty/, /systematic error/, /friction torque and its scatter/, /next time/];

/** Opens the station's part. */
async function desk(page) {
  const report = station(page, 'Report');
  await report.getByText('Write the report').click();
  await report.getByLabel('Names').waitFor();
  return report;
}

async function enter(field, text) {
  await field.fill(text);
  await field.blur();
}

async function fillIn(report) {
  await enter(report.getByLabel('Names'), 'Ada Mora, Bo <b>Lind</b>');
  await enter(report.getByLabel('Date'), '2026-11-27');
  await report.getByRole('checkbox', { name: /I read the cautions/ }).check();
  for (const [index, prompt] of PROMPTS.entries()) await enter(report.getByLabel(prompt), `Answer ${index + 1}: "it" is & stays <i>text</i>.`);
}

const openPoints = (report) => report.locator('.open-points li');

/** The readings of a lab file, in the form that DEVELOPERS.md describes, and their SHA-256: made without Whorl. */
function fingerprint(lab) {
  const bits = (number) => {
    const bytes = Buffer.alloc(8);
    bytes.writeDoubleBE(number);
    return bytes.toString('hex');
  };
  const name = (id) => lab.objects.find((object) => object.id === id).name.replaceAll('\\', '\\\\').replaceAll('\n', '\\n').replaceAll('\r', '\\r');
  let text = 'whorl-readings 1\n';
  for (const run of lab.runs) {
    text += `run\n${run.object === null ? 'empty' : `carries ${name(run.object)}`}\n`;
    text += `mass ${run.hanging_mass_kg === null ? 'none' : bits(run.hanging_mass_kg)}\nmotion ${run.motion}\nkind ${run.readings.kind}\n`;
    assert.equal(run.readings.kind, 'gate-times');
    for (const time of run.readings.time_s) text += `${bits(time)}\n`;
  }
  return createHash('sha256').update(text).digest('hex');
}

async function download(page, button) {
  const [saved] = await Promise.all([page.waitForEvent('download'), button.click()]);
  return { name: saved.suggestedFilename(), text: await textOf(saved) };
}

test('what is open is a list of links that shrinks as it is filled in, and the path says so', () =>
  during(async (page) => {
    await openExample(page);
    assert.ok(await stationState(page, 'Report', 'not begun').isVisible());
    const report = await desk(page);
    assert.equal(await openPoints(report).count(), 10);
    await openPoints(report).getByRole('link', { name: 'Say who did the lab.' }).click();
    assert.ok(await report.getByLabel('Names').evaluate((field) => field.getBoundingClientRect().top < innerHeight));
    await fillIn(report);
    assert.deepEqual(await openPoints(report).allInnerTexts(), ['Derive the equations in the pre-lab.']);
    await stationState(page, 'Report', '1 thing open').waitFor();
  }));

test('the report is saved as a file that stands alone, with the fingerprint of the lab file beside it', () =>
  during(async (page) => {
    await openExample(page);
    const report = await desk(page);
    await fillIn(report);
    const file = await download(page, report.getByRole('button', { name: 'Save report (HTML)' }));
    assert.equal(file.name, 'banding-wheel-in-the-pottery-studio-report.html');
    const lab = await download(page, report.getByRole('button', { name: 'Save lab file' }));
    const saved = JSON.parse(lab.text);
    assert.match(saved.readings_sha256, /^[0-9a-f]{64}$/);
    assert.equal(saved.readings_sha256, fingerprint(saved), 'another program finds the same');
    assert.equal(JSON.parse(saved.hand_in).names, 'Ada Mora, Bo <b>Lind</b>');

    const folder = await mkdtemp(join(tmpdir(), 'whorl-report-'));
    const context = await browser.newContext();
    try {
      const path = join(folder, file.name);
      await writeFile(path, file.text);
      const alone = await context.newPage();
      const errors = listenForErrors(alone);
      const asked = [];
      alone.on('request', (request) => asked.push(request.url()));
      await alone.goto(`file://${path}`);
      const body = await alone.locator('body').innerText();
      for (const words of [saved.readings_sha256, 'Ada Mora, Bo <b>Lind</b>', 'stays <i>text</i>', '6.981', 'are simulated']) assert.ok(body.includes(words), words);
      assert.deepEqual(asked.filter((url) => !url.startsWith('data:') && !url.startsWith('file:')), []);
      assert.equal(asked.filter((url) => url.startsWith('file:')).length, 1);
      assert.ok(await alone.evaluate(() => [...document.images].every((image) => image.complete && image.naturalWidth > 0 && image.alt.length > 20)));
      assert.equal(await alone.evaluate(() => document.querySelectorAll('script, b, i').length), 0);
      assert.deepEqual(errors, []);
      // axe-core itself runs in a copy without the policy, which rightly keeps it out.
      await alone.setContent(file.text.replace(/<meta http-equiv[^>]*>/, ''));
      assert.deepEqual(await violations(alone), []);
    } finally {
      await context.close();
      await rm(folder, { recursive: true });
    }
  }));

/** Pages of a PDF, and the titles of its outline. */
function inside(pdf) {
  const text = pdf.toString('latin1');
  const wide = (hex) => Buffer.from(hex, 'hex').swap16().toString('utf16le').slice(1);
  const titles = [...text.matchAll(/\/Title\s*(?:\(((?:\\.|[^)\\])*)\)|<([0-9A-Fa-f]+)>)/g)].map(([, plain, hex]) => (hex ? wide(hex) : plain));
  return { pages: (text.match(/\/Type\s*\/Page\b(?!s)/g) ?? []).length, titles };
}

for (const format of ['A4', 'Letter']) {
  test(`the page prints the report and nothing else, on six pages of ${format} at most`, async () => {
    const { page, context, errors } = await visit(browser, host, { colorScheme: 'dark' });
    try {
      await page.evaluate(() => (window.print = () => void window.dispatchEvent(new Event('beforeprint'))));
      await openExample(page);
      const report = await desk(page);
      await fillIn(report);
      await report.getByRole('button', { name: 'Print or save as PDF' }).click();
      await page.locator('html.printing-report').waitFor({ state: 'attached' });
      await page.emulateMedia({ media: 'print' });
      const seen = await page.locator('body').innerText();
      const labFile = await saved(page);
      for (const words of ['Apparatus', 'Derivation', 'Uncertainty budget', 'Conclusions', '6.981', '5.502', 'Answer 6', labFile]) assert.ok(seen.includes(words), words);
      assert.ok(!seen.includes('Save report') && !seen.includes('Open the example lab'), 'nothing of the page itself');
      const colors = await page.evaluate(() => {
        const style = getComputedStyle(document.querySelector('.paper h2'));
        return [style.color, getComputedStyle(document.querySelector('.paper .report')).backgroundColor];
      });
      assert.deepEqual(colors, ['rgb(0, 0, 0)', 'rgb(255, 255, 255)']);
      await page.emulateMedia({ media: null });
      const { pages, titles } = inside(await page.pdf({ format, tagged: true, outline: true }));
      assert.ok(pages >= 3 && pages <= 6, `${pages} pages`);
      for (const heading of ['Apparatus', 'Runs', 'Inertia line', 'Uncertainty budget', 'Conclusions']) assert.ok(titles.includes(heading), `${heading} in ${titles}`);
      await page.evaluate(() => window.dispatchEvent(new Event('afterprint')));
      assert.equal(await page.locator('.paper').count(), 0);
      assert.equal(await page.locator('html.printing-report').count(), 0);
      assert.deepEqual(errors, []);
    } finally {
      await context.close();
    }
  });
}

/** The fingerprint that the page's own lab file carries. */
async function saved(page) {
  await page.emulateMedia({ media: 'screen' });
  const text = (await saveLab(page)).text;
  await page.emulateMedia({ media: 'print' });
  return JSON.parse(text).readings_sha256;
}

test('where printing is refused the page says what to do instead', () =>
  during(async (page) => {
    await page.evaluate(() => (window.print = () => {}));
    await openExample(page);
    const report = await desk(page);
    await report.getByRole('button', { name: 'Print or save as PDF' }).click();
    await report.getByRole('alert').filter({ hasText: 'does not let this page print here. Save the report (HTML)' }).waitFor();
    assert.equal(await page.locator('.paper').count(), 0);
    assert.equal(await page.locator('html.printing-report').count(), 0);
  }));

test('a lab file whose readings were edited opens, and is told so', () =>
  during(async (page) => {
    await openExample(page);
    const { text } = await saveLab(page);
    const file = (content) => ({ name: 'edited.json', mimeType: 'application/json', buffer: Buffer.from(content) });
    const lab = JSON.parse(text);
    lab.runs[0].readings.time_s[3] += 1e-4;
    page.on('dialog', (dialog) => dialog.accept());
    await openLab(page, file(JSON.stringify(lab)));
    await problem(page).filter({ hasText: 'not those it was saved with' }).waitFor();
    assert.ok(await stationState(page, 'Runs', '23 runs').isVisible());
    await openLab(page, file(text));
    await page.waitForTimeout(1000);
    assert.equal(await problem(page).filter({ hasText: 'not those' }).count(), 0);
  }));

for (const [where, size] of Object.entries(SIZES)) {
  for (const colorScheme of ['light', 'dark']) {
    test(`axe-core finds nothing at the report ${where}, ${colorScheme}`, async () => {
      const { page, context } = await visit(browser, host, { ...size, colorScheme });
      await openExample(page);
      await fillIn(await desk(page));
      assert.deepEqual(await violations(page), []);
      await context.close();
    });
  }
}
