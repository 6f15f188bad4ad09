// A lab entered by hand: the apparatus typed, the files added, every stretch set.

import assert from 'node:assert/strict';
import { readFile, readdir } from 'node:fs/promises';
import { test } from 'node:test';
import { fileURLToPath } from 'node:url';

import { addFromTray, addRuns, card, chooseFiles, dropFiles, interval, measure, news, openLab, result, si, station, stationState, tray, trayRead, trayRow, visit } from './lab-page.mjs';
import { browser, host } from './session.mjs';

const folder = new URL('../labs/twelve/', import.meta.url);
const read = async (name) => JSON.parse(await readFile(new URL(name, folder), 'utf8'));
const [lab, truth] = [await read('lab.json'), await read('truth.json')];
const files = (await readdir(new URL('runs/', folder))).sort().map((name) => fileURLToPath(new URL(`runs/${name}`, folder)));
const fileOf = (run) => run.readings.file.replace('runs/', '');
const runNamed = (file) => lab.runs.find((run) => fileOf(run) === file);

/** The row of a run in the list, by the name its file gave it. */
async function rowOf(page, name) {
  const rows = station(page, 'Runs').getByRole('table', { name: 'Runs of this lab' }).locator('tbody').getByRole('row');
  const names = await rows.getByLabel('name of the run').evaluateAll((all) => all.map((field) => field.value));
  assert.ok(names.includes(name), `${name} among ${names}`);
  return rows.nth(names.indexOf(name));
}

async function enterApparatus(page) {
  const apparatus = station(page, 'Apparatus');
  // As people type: with a unit, with a decimal comma, plain.
  await measure(apparatus, 'drum radius', 'R', '2.5 cm', '0,03');
  await measure(apparatus, 'string diameter', 'd', '1,0', '0.05');
  await measure(apparatus, 'travel per spoke', 's', '15 mm', '0.01');
  await measure(apparatus, 'local gravity', 'g', '9.81', '0.003');
  await apparatus.getByLabel('spokes of the pulley N', { exact: true }).fill('10');
  await apparatus.getByLabel('uncertainty shared by all hanging masses').fill('0.05');
}

async function addObject(page, name) {
  await page.getByLabel('Another object').fill(name);
  await page.getByRole('button', { name: 'Add object' }).click();
}

/** Types both ends of the stretch, one key after the other, as a keyboard does. */
async function typeStretch(page, from, to) {
  const fields = page.getByRole('group', { name: 'Good stretch' });
  for (const [label, seconds] of [['from', from], ['to', to]]) {
    await fields.getByLabel(label, { exact: true }).focus();
    await page.keyboard.press('ControlOrMeta+a');
    await page.keyboard.type(String(seconds));
    await page.keyboard.press('Tab');
  }
  return stretchShown(page);
}

async function stretchShown(page) {
  const fields = page.getByRole('group', { name: 'Good stretch' });
  const ends = [fields.getByLabel('from', { exact: true }), fields.getByLabel('to', { exact: true })];
  return Promise.all(ends.map(async (end) => Number(await end.inputValue())));
}

async function show(page, run) {
  await page.getByLabel('Run shown').selectOption({ label: run });
}

/** Everything of the lab, entered by hand. */
async function enterByHand(page) {
  await enterApparatus(page);
  await addObject(page, 'brass ring');
  await addRuns(page, files);
  for (const run of lab.runs) {
    await show(page, fileOf(run).replace('.csv', ''));
    assert.deepEqual(await typeStretch(page, ...run.stretch_s), run.stretch_s, run.name);
  }
  const ring = card(station(page, 'Comparison'), 'brass ring');
  await ring.getByLabel('shape').selectOption({ label: 'ring or hollow cylinder' });
  await measure(ring, 'mass of one', 'M', '1,105 kg', '1');
  await measure(ring, 'inner radius', 'r₁', '60', '0.2');
  await measure(ring, 'outer radius', 'r₂', '7.5 cm', '0.2');
}

const alone = (page) => card(station(page, 'Object alone'), 'brass ring alone');

test('a lab entered by hand gives what was put in, and what its lab file gives', async () => {
  const byHand = await visit(browser, host);
  await enterByHand(byHand.page);
  assert.ok(await stationState(byHand.page, 'Comparison', '1 of 1 compared').isVisible());

  const shown = await result(alone(byHand.page), 'moment of inertia');
  const range = await result(alone(byHand.page), '95 % coverage interval');
  const { low, high } = interval(range);
  const put = truth.objects_kg_m2['brass ring'];
  assert.ok(low <= put && put <= high, `${put} outside ${range}`);
  assert.ok(high - low < 0.1 * si(shown), range);
  const compared = card(station(byHand.page, 'Comparison'), 'brass ring');
  assert.equal(truth.verdicts['brass ring'], 'agree');
  assert.equal(await compared.locator('.verdict strong').innerText(), 'Agree.');

  const opened = await visit(browser, host);
  await openLab(opened.page, [fileURLToPath(new URL('lab.json', folder)), ...files]);
  await news(opened.page).filter({ hasText: '12 runs' }).waitFor();
  assert.equal(await result(alone(opened.page), 'moment of inertia'), shown);
  assert.equal(await result(alone(opened.page), '95 % coverage interval'), range);
  for (const name of ['measured', 'predicted', 'difference D', 'percent difference']) {
    const other = card(station(opened.page, 'Comparison'), 'brass ring');
    assert.equal(await result(other, name), await result(compared, name), name);
  }
  for (const [configuration, names] of [
    ['empty table', ['moment of inertia', 'friction torque', 'the line you would draw']],
    ['brass ring', ['moment of inertia', 'friction torque', 'the line you would draw']],
    ['All lines together', ['friction from run to run', 'chi-square', 'drag']],
  ]) {
    for (const name of names) {
      const [one, other] = [byHand, opened].map(({ page }) => card(station(page, 'Inertia line'), configuration));
      assert.equal(await result(one, name), await result(other, name), `${configuration}: ${name}`);
    }
  }
  assert.deepEqual([...byHand.errors, ...opened.errors], []);
  await byHand.context.close();
  await opened.context.close();
});

test('hanging mass, load and kind of readings are told by each file’s name and heading', async () => {
  const { page, context } = await visit(browser, host);
  await addObject(page, 'brass ring');
  await addRuns(page, files);
  for (const file of files) {
    const base = file.split('/').at(-1);
    const run = runNamed(base);
    const row = await rowOf(page, base.replace('.csv', ''));
    const mass = await row.getByLabel('hanging mass of').inputValue();
    assert.equal(Number(mass), Math.round(run.hanging_mass_kg * 1e6) / 1e3, base);
    const carries = row.getByLabel('what the table carries in');
    const load = await carries.evaluate((choice) => choice.selectedOptions[0].textContent);
    assert.equal(load, run.object === null ? 'empty table' : 'brass ring', base);
    const kind = truth.runs.find((other) => other.name === run.name).kind;
    const words = { 'gate-times': /gate/, velocity: /velocit/, position: /position/ }[kind];
    assert.match(await row.innerText(), words, base);
  }
  await context.close();
});

test('dropped files are added as picked ones are', async () => {
  const { page, context, errors } = await visit(browser, host);
  await addObject(page, 'brass ring');
  const dropped = await Promise.all(files.map(async (file) => ({ name: file.split('/').at(-1), text: await readFile(file, 'utf8') })));
  await dropFiles(page, dropped);
  await trayRead(page, 12);
  assert.ok(await stationState(page, 'Runs', 'none yet').isVisible(), 'nothing enters the lab by itself');
  await addFromTray(page, 12);
  assert.ok(await stationState(page, 'Runs', '12 runs').isVisible());
  const row = await rowOf(page, 'ring-240g');
  assert.equal(await row.getByLabel('hanging mass of').inputValue(), '240');
  assert.deepEqual(errors, []);
  await context.close();
});

test('without a heading the page asks what the columns are', async () => {
  const { page, context } = await visit(browser, host);
  const text = Array.from({ length: 30 }, (_, row) => `${(0.1 * row).toFixed(1)},${(0.05 * row).toFixed(3)}`).join('\n');
  const bare = { name: 'bare-50g.csv', mimeType: 'text/csv', buffer: Buffer.from(text) };
  await chooseFiles(page, bare);
  await trayRead(page, 1);
  assert.equal(await tray(page).getByRole('button', { name: 'Add 0 runs to the lab' }).isDisabled(), true);
  await tray(page).locator('.asked').getByRole('button', { name: /velocit/ }).first().click();
  const proposed = trayRow(page, 'bare-50g');
  await proposed.filter({ hasText: /30 .*velocit/ }).waitFor();
  await proposed.getByLabel('what the table carries in').selectOption({ label: 'empty table' });
  await addFromTray(page, 1);
  const row = await rowOf(page, 'bare-50g');
  assert.match(await row.innerText(), /30 .*velocit/);
  await context.close();
});

test('a stretch dragged over the chart is the stretch in the fields, and the result follows', async () => {
  const { page, context, errors } = await visit(browser, host);
  await enterApparatus(page);
  await addRuns(page, files.filter((file) => file.endsWith('empty-020g.csv')));
  const found = await stretchShown(page);
  await page.getByRole('button', { name: 'Use all readings' }).click();
  const whole = await stretchShown(page);
  assert.ok(whole[1] - whole[0] > 8, `the whole run: ${whole}`);
  assert.ok(found[0] > whole[0] && found[1] < whole[1] && found[1] > found[0], `${found} inside ${whole}`);
  const row = () => result(station(page, 'Acceleration'), 'acceleration a');
  const before = await row();

  const canvas = station(page, 'Acceleration').getByRole('img').first();
  await canvas.scrollIntoViewIfNeeded();
  const box = await canvas.boundingBox();
  const at = (share) => [box.x + box.width * share, box.y + box.height * 0.4];
  const drag = async (from, to) => {
    await page.mouse.move(...at(from));
    await page.mouse.down();
    await page.mouse.move(...at((from + to) / 2));
    await page.mouse.move(...at(to));
    await page.mouse.up();
  };
  await drag(0.45, 0.7);
  const first = await stretchShown(page);
  assert.ok(first[0] > whole[0] && first[1] < whole[1] && first[1] > first[0], `${first} inside ${whole}`);
  const after = await row();
  assert.notEqual(after, before);

  // Taking hold of the right end moves that end alone.
  await drag(0.7, 0.6);
  const second = await stretchShown(page);
  assert.equal(second[0], first[0]);
  assert.ok(second[1] < first[1], `${second[1]} before ${first[1]}`);

  // A drag says a length of time in proportion to its length on the screen.
  const perShare = (first[1] - first[0]) / 0.25;
  assert.ok(Math.abs((first[1] - second[1]) / 0.1 / perShare - 1) < 0.05, `${first} then ${second}`);

  // Once let go, moving the pointer changes nothing.
  await page.mouse.move(...at(0.9));
  assert.deepEqual(await stretchShown(page), second);

  await page.getByRole('button', { name: 'Use all readings' }).click();
  assert.deepEqual(await stretchShown(page), whole);
  assert.equal(await row(), before);
  assert.deepEqual(errors, []);
  await context.close();
});

test('a stretch can be typed end by end, whatever digit comes first', async () => {
  const { page, context } = await visit(browser, host);
  await enterApparatus(page);
  await addRuns(page, files.filter((file) => file.endsWith('ring-050g.csv')));
  assert.deepEqual(await typeStretch(page, 3.5, 9.5), [3.5, 9.5]);
  // On the way to 10.5 stands 1, which lies before the other end.
  assert.deepEqual(await typeStretch(page, 3.5, 10.5), [3.5, 10.5]);
  assert.deepEqual(await typeStretch(page, 3.75, 8.25), [3.75, 8.25]);
  await context.close();
});

test('numbers that are none are refused beside the field', async () => {
  const { page, context } = await visit(browser, host);
  const radius = page.getByLabel('drum radius R', { exact: true });
  for (const [typed, told] of [
    ['abc', '“abc” is not a number'],
    ['15 kg', '“kg” is not a unit for this; use mm'],
    ['1.2.3', '“1.2.3” is not a number'],
  ]) {
    await radius.fill(typed);
    assert.equal(await radius.getAttribute('aria-invalid'), 'true');
    const note = page.locator(`[id="${await radius.getAttribute('aria-describedby')}"]`);
    // Once the typing rests.
    await note.filter({ hasText: told }).waitFor();
  }
  await radius.fill('15 mm');
  assert.equal(await radius.getAttribute('aria-invalid'), null);
  await context.close();
});
