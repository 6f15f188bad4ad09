// The lab as a file: saved, opened again, refused when broken, asked about before it is lost.

import assert from 'node:assert/strict';
import { readFile, readdir } from 'node:fs/promises';
import { test } from 'node:test';
import { fileURLToPath } from 'node:url';

import { NOTHING_IS_KEPT, addRuns, everythingShown, news, openExample, openLab, problem, ready, saveLab, station, stationState, textOf, visit } from './lab-page.mjs';
import { browser, during, host } from './session.mjs';

const folder = new URL('../labs/twelve/', import.meta.url);
const labFile = fileURLToPath(new URL('lab.json', folder));
const runFiles = (await readdir(new URL('runs/', folder))).sort().map((name) => fileURLToPath(new URL(`runs/${name}`, folder)));
const sample = new URL('../../web/samples/banding-wheel.json', import.meta.url);

/** A visit that ends without an error. */
const asFile = (name, text) => ({ name, mimeType: 'application/json', buffer: Buffer.from(text) });

const unsaved = (page) => page.getByText(/not saved (yet|as a file yet)$/);

/** Answers the next question of the page; gives what was asked, in a list that fills when it is. */
function answer(page, accept) {
  const asked = [];
  page.once('dialog', async (dialog) => {
    asked.push({ type: dialog.type(), message: dialog.message() });
    await (accept ? dialog.accept() : dialog.dismiss());
  });
  return asked;
}

const titleField = (page) => page.getByLabel('Title of this lab');

async function retitle(page, title) {
  await titleField(page).fill(title);
  await titleField(page).blur();
}

test('a saved lab shows the same to the letter once it is opened again, and saves as the same bytes', () =>
  during(async (page) => {
    await openExample(page);
    // A change of its own, so that the example is not simply fetched again.
    await page.getByLabel('drum radius R', { exact: true }).fill('25.013');
    await retitle(page, 'Größe & <b>Maß</b>');
    const saved = await saveLab(page);
    assert.equal(saved.name, 'größe-b-maß-b.json');
    const before = await everythingShown(page);
    await page.getByRole('button', { name: 'New lab' }).click();
    await stationState(page, 'Runs', 'none yet').waitFor();
    await openLab(page, asFile(saved.name, saved.text));
    await news(page).filter({ hasText: '23 runs' }).waitFor();
    const after = await everythingShown(page);
    assert.ok(before.text.length > 5000, `${before.text.length} letters compared`);
    assert.deepEqual(after, before);
    const again = await saveLab(page);
    assert.equal(again.text, saved.text);
    assert.equal(again.name, saved.name);
  }));

test('each table is saved as a file of its own, named after the lab', () =>
  during(async (page) => {
    await openExample(page);
    await page.getByText('Tables as CSV', { exact: true }).click();
    const tables = page.getByRole('group', { name: 'Tables as CSV' });
    for (const [button, key, begins] of [
      ['Readings', 'readings', 'run,table carries,hanging mass (kg),motion,time (s)\r\n'],
      ['Accelerations', 'accelerations', 'run,table carries,'],
      ['Points of the lines', 'points', 'table carries,run,'],
      ['Results', 'results', 'quantity,table carries,value,'],
    ]) {
      const [download] = await Promise.all([
        page.waitForEvent('download'),
        tables.getByRole('button', { name: button, exact: true }).click(),
      ]);
      assert.match(download.suggestedFilename(), new RegExp(`-simulated-${key}\\.csv$`));
      const text = await textOf(download);
      assert.ok(text.startsWith(`\ufeff${begins}`), text.slice(0, 80));
      assert.ok(text.endsWith('\r\n'));
      await news(page).filter({ hasText: download.suggestedFilename() }).waitFor();
    }
  }));

test('the example lab survives opening and saving unchanged in what it means', () =>
  during(async (page) => {
    const original = JSON.parse(await readFile(sample, 'utf8'));
    await openExample(page);
    // An older file need not say that no pre-lab was begun, that nothing is planned, that every mass falls …
    const unsaid = { hanging_mass_u_kg: 0, pulley_inertia_kg_m2: null, drop_height_m: null };
    const unsaidOfFile = { bytes: null, sha256: null, run: '', remarks: [] };
    const { readings_sha256: fingerprint, ...saved } = JSON.parse((await saveLab(page)).text);
    assert.match(fingerprint, /^[0-9a-f]{64}$/);
    assert.deepEqual(saved, {
      prelab: null,
      assignment: null,
      bench: null,
      forecasts: null,
      hand_in: null,
      plan: null,
      ...original,
      version: 3,
      apparatus: { ...original.apparatus, ...unsaid },
      runs: original.runs.map((run, index) => ({ id: index + 1, motion: 'falling', ...run, source: { ...unsaidOfFile, ...run.source } })),
      balancing: [],
    });
  }));

test('a lab file opens together with the readings files that it names', () =>
  during(async (page) => {
    await openLab(page, [...runFiles, labFile]);
    await news(page).filter({ hasText: 'Opened “Twelve runs on the banding wheel”, 12 runs.' }).waitFor();
    assert.ok(await stationState(page, 'Comparison', '1 of 1 compared').isVisible());
    assert.ok(await page.getByRole('note').filter({ hasText: 'Simulated' }).isVisible());
  }));

test('a lab file without its readings files names the one that is missing and says what to do', () =>
  during(async (page) => {
    await openLab(page, labFile);
    await problem(page).filter({ hasText: 'empty-015g.csv' }).waitFor();
    const told = await problem(page).innerText();
    assert.match(told, /missing/);
    assert.match(told, /Choose it together with the lab file/);
    assert.ok(await stationState(page, 'Runs', 'none yet').isVisible());
    await openLab(page, [labFile, ...runFiles.slice(0, 7)]);
    await problem(page).filter({ hasText: 'ring-080g.csv' }).waitFor();
  }));

for (const [what, breakIt, told] of [
  ['cut in the middle', (text) => text.slice(0, 3000), [/line \d+, column \d+/, /Open a file that Whorl saved/]],
  ['of another format', (text) => text.replace('"whorl-lab"', '"recipe"'), [/line 1, column 1/, /not a Whorl lab/, /Open a file that Whorl saved/]],
  ['of a newer version that is not understood', (text) => text.replace('"version": 3', '"version": 7').replace('"shape": "ring"', '"shape": "gear"'), [/newer Whorl \(version 7/, /parts\[0\]\.shape/, /Reload the page/]],
  ['with a word for a number', (text) => text.replace('"spokes": 10', '"spokes": "ten"'), [/apparatus\.spokes/, /Mend this place/]],
  ['with an impossible number', (text) => text.replace('"u": 3e-05', '"u": -3e-05'), [/drum_radius_m/, /Mend this place/]],
  ['that is no text', () => '\ufffd', [/line 1, column 1/]],
]) {
  test(`a lab file ${what} is refused with place and remedy, and the lab stays`, () =>
    during(async (page) => {
      await openLab(page, [labFile, ...runFiles]);
      await stationState(page, 'Comparison', '1 of 1 compared').waitFor();
      const before = await everythingShown(page);
      const text = breakIt(await readFile(sample, 'utf8'));
      await openLab(page, asFile('broken.json', text));
      await problem(page).filter({ hasText: /\S/ }).waitFor();
      const words = await problem(page).innerText();
      for (const part of told) assert.match(words, part);
      assert.deepEqual(await everythingShown(page), before);
      assert.equal(await unsaved(page).isVisible(), false);
    }));
}

test('the message about a broken lab file names it, as the one about a readings file does', () =>
  during(async (page) => {
    await openLab(page, asFile('broken.json', (await readFile(sample, 'utf8')).slice(0, 3000)));
    await problem(page).filter({ hasText: /^broken\.json, line \d+, column \d+: / }).waitFor({ timeout: 3000 });
  }));

test('readings files alone are not a lab, and two labs are one too many', () =>
  during(async (page) => {
    await openLab(page, runFiles.slice(0, 2));
    await problem(page).filter({ hasText: 'None of these files is a lab' }).waitFor();
    await openLab(page, [labFile, fileURLToPath(sample)]);
    await problem(page).filter({ hasText: 'one lab at a time' }).waitFor();
  }));

test('what is not saved is marked, until it is', () =>
  during(async (page) => {
    assert.equal(await unsaved(page).isVisible(), false);
    await openExample(page);
    assert.equal(await unsaved(page).isVisible(), false);
    await page.getByLabel('string diameter d', { exact: true }).fill('1.1');
    await unsaved(page).waitFor();
    await saveLab(page);
    assert.equal(await unsaved(page).isVisible(), false);
    await retitle(page, 'Another title');
    await unsaved(page).waitFor();
  }));

test('leaving with something unsaved asks first, and not without', async () => {
  const { page, context } = await visit(browser, host);
  await openExample(page);
  const quiet = answer(page, true);
  await page.reload();
  await ready(page);
  assert.deepEqual(quiet, []);

  page.removeAllListeners('dialog');
  await page.getByLabel('string diameter d', { exact: true }).click();
  await page.keyboard.type('1.1');
  const asked = answer(page, true);
  await page.reload();
  await ready(page);
  assert.deepEqual(asked.map((question) => question.type), ['beforeunload']);
  await context.close();
});

for (const [action, start] of [
  ['New lab', (page) => page.getByRole('button', { name: 'New lab' }).click()],
  ['the example', (page) => page.getByRole('button', { name: 'Open the example lab' }).click()],
  ['another lab', (page) => openLab(page, [labFile, ...runFiles])],
]) {
  test(`where nothing is kept, ${action} asks before it replaces what is not saved`, () =>
    during(async (page) => {
      await retitle(page, 'Mine');
      await page.getByText('not saved yet', { exact: true }).waitFor();
      const refused = answer(page, false);
      await start(page);
      await page.waitForTimeout(300);
      assert.deepEqual(refused.map((question) => question.type), ['confirm']);
      assert.match(refused[0].message, /not saved/);
      assert.equal(await titleField(page).inputValue(), 'Mine');

      const accepted = answer(page, true);
      await start(page);
      await page.waitForFunction(() => document.querySelector('.lab-title input').value !== 'Mine');
      assert.equal(accepted.length, 1);
      assert.equal(await unsaved(page).isVisible(), false);
    }, { before: NOTHING_IS_KEPT }));
}

test('New lab empties everything', () =>
  during(async (page) => {
    const empty = await everythingShown(page);
    await page.reload();
    await ready(page);
    await openExample(page);
    await page.getByRole('button', { name: 'New lab' }).click();
    await stationState(page, 'Runs', 'none yet').waitFor();
    assert.deepEqual(await everythingShown(page), empty);
    assert.ok(await station(page, 'Runs').getByText('No runs yet').isVisible());
  }));

test('the same file can be added twice in a row', () =>
  during(async (page) => {
    await addRuns(page, runFiles[1]);
    await stationState(page, 'Runs', '1 run').waitFor();
    await addRuns(page, runFiles[1]);
    await stationState(page, 'Runs', '2 runs').waitFor();
  }));
