// The practice bench: a student without apparatus sets one up, takes runs, commits to a result and sees the truth.

import assert from 'node:assert/strict';
import { test } from 'node:test';

import { NARROW, SIZES, tooWide, violations } from './inspection.mjs';
import { openLab, saveLab, station, stationState, textOf, visit } from './lab-page.mjs';
import { browser, host } from './session.mjs';

/** The panel, opened. */
async function opened(options = {}) {
  const { page, context, errors } = await visit(browser, host, { viewport: { width: 1366, height: 768 }, ...options });
  await station(page, 'Runs').getByText('No apparatus? Take runs on the practice bench').click();
  const bench = station(page, 'Runs').locator('.bench');
  await bench.getByLabel('Your code').waitFor();
  return { page, context, errors, bench };
}

/** Sets a bench up and gives its code. */
async function setUp(bench, code = '') {
  await bench.getByLabel('Your code').fill(code);
  await bench.getByRole('button', { name: 'Set up my bench' }).click();
  const page = bench.page();
  const heading = station(page, 'Runs').getByRole('heading', { name: /^Your bench: code/ });
  await heading.waitFor();
  // The work goes on where it was.
  await page.waitForFunction(() => document.activeElement?.textContent.startsWith('Your bench: code'));
  await station(page, 'Comparison').waitFor();
  return (await heading.innerText()).match(/code (\S+)/)[1];
}

async function take(bench, load, masses) {
  for (const mass of masses) {
    await bench.getByLabel('table carries').selectOption({ label: load });
    await bench.getByLabel('hanging mass').selectOption({ label: `${mass}\u202fg` });
    const before = await bench.locator('.news').first().innerText();
    await bench.getByRole('button', { name: 'Take the run at once' }).click();
    await bench.page().waitForFunction((before) => document.querySelector('.bench .news').innerText !== before, before);
  }
}

test('a student takes runs, commits to a result and sees whether the interval held the truth', async () => {
  const { page, context, errors, bench } = await opened();
  const code = await setUp(bench);
  assert.match(code, /^[2-9A-Z]{3}-[2-9A-Z]{3}$/);
  await page.getByText('These runs were made by a computer').waitFor();
  await stationState(page, 'Apparatus', 'measured').waitFor();
  const masses = (await bench.getByLabel('hanging mass').locator('option').allInnerTexts()).map((text) => text.replace(/\D+$/, ''));
  const spread = (count) => Array.from({ length: count }, (_, k) => masses[Math.round((k * (masses.length - 1)) / (count - 1))]);
  await take(bench, 'the empty table', spread(5));
  await take(bench, 'brass ring', spread(5));
  const ready = bench.getByRole('button', { name: 'Commit to my result for brass ring' });
  await ready.waitFor();
  let asked = '';
  page.on('dialog', (dialog) => { asked = dialog.message(); dialog.accept(); });
  await ready.click();
  const table = bench.getByRole('table', { name: 'What you stood by, and what is true' });
  await table.waitFor();
  assert.match(asked, /95\s%/);
  const [name, value, interval, truth, verdict] = await table.locator('tbody tr').first().locator('th, td').allInnerTexts();
  assert.equal(name, 'brass ring');
  const number = (text) => Number(text.match(/[\d.]+/)[0]);
  const ends = interval.match(/\(([\d.]+) to ([\d.]+)\)/).slice(1).map(Number);
  assert.ok(ends[0] < number(value) && number(value) < ends[1], `${value} in ${interval}`);
  // All three stand there with one power of ten.
  const inside = ends[0] <= number(truth) && number(truth) <= ends[1];
  assert.equal(verdict, inside ? 'The interval holds the truth.' : 'The interval misses the truth.');
  // Not twice.
  assert.equal(await ready.count(), 0);

  // Saved and opened, the bench goes on, and the answer stays open.
  const { text } = await saveLab(page);
  await openLab(page, { name: 'bench.json', mimeType: 'application/json', buffer: Buffer.from(text) });
  await page.locator('header .news').filter({ hasText: 'opened' }).or(page.getByRole('status').filter({ hasText: '10 runs' })).first().waitFor();
  await table.waitFor();
  assert.equal(await table.locator('tbody td').nth(2).innerText(), truth);
  await take(bench, 'brass ring', [masses[0]]);
  assert.match(await bench.locator('.news').first().innerText(), /“run 11” is taken/);
  assert.deepEqual(errors, []);
  await context.close();
});

test('the same code gives the same apparatus and the same run, to the last digit', async () => {
  const lab = async (code = '') => {
    const { page, context, bench } = await opened();
    const given = await setUp(bench, code);
    await take(bench, 'the empty table', [(await bench.getByLabel('hanging mass').locator('option').nth(3).innerText()).replace(/\D+$/, '')]);
    const { text } = await saveLab(page);
    await context.close();
    return { given, ...JSON.parse(text) };
  };
  const one = await lab();
  const other = await lab(one.given);
  assert.deepEqual(one.runs, other.runs);
  assert.deepEqual(one.apparatus, other.apparatus);
  assert.ok(one.runs[0].readings.time_s.length > 20);
});

test('a run that is watched takes its time, and the next one waits for it', async () => {
  const { context, errors, bench } = await opened();
  await setUp(bench);
  await bench.getByRole('button', { name: 'Let it fall and watch' }).click();
  await bench.getByRole('img', { name: /^Drawing of the run/ }).waitFor();
  assert.equal(await bench.getByRole('button', { name: 'Take the run at once' }).getAttribute('aria-disabled'), 'true');
  const slider = bench.getByLabel('Moment');
  const began = Number(await slider.inputValue());
  await bench.page().waitForTimeout(1200);
  assert.ok(Number(await slider.inputValue()) > began);
  await bench.getByRole('button', { name: 'Pause' }).click();
  assert.equal(await bench.getByRole('button', { name: 'Take the run at once' }).getAttribute('aria-disabled'), null);
  assert.deepEqual(errors, []);
  await context.close();
});

test('a wrong code and a wrong file say what is wrong; a teacher’s file sets the bench', async () => {
  const { page, context, errors, bench } = await opened();
  for (const [code, says] of [['K7M', 'a code has six letters and digits'], ['K7M-4Q0', 'codes have no “0”'], ['222-223', 'a sign is wrong, or two are exchanged']]) {
    await bench.getByLabel('Your code').fill(code);
    await bench.getByRole('button', { name: 'Set up my bench' }).click();
    await bench.getByRole('alert').filter({ hasText: says }).waitFor();
  }
  const file = (text) => ({ name: 'wheel.json', mimeType: 'application/json', buffer: Buffer.from(text) });
  const picker = bench.getByLabel('A bench file from your instructor…');
  await picker.setInputFiles(file('{"format": "whorl-bench", "version": 1, "masses": []}'));
  await bench.getByRole('alert').filter({ hasText: 'wheel.json' }).filter({ hasText: 'masses' }).waitFor();
  await picker.setInputFiles(file('{"format": "whorl-bench", "version": 1, "title": "<b>Kick wheel</b>", "masses_kg": [0.05, 0.1, 0.15]}'));
  await bench.getByText('Bench “<b>Kick wheel</b>” is ready.').waitFor();
  await setUp(bench);
  assert.equal(await bench.getByLabel('hanging mass').locator('option').count(), 3);
  assert.equal(await page.getByLabel('Title of this lab').inputValue().then((title) => title.startsWith('<b>Kick wheel</b>, ')), true);
  assert.deepEqual(errors, []);
  await context.close();
});

test('the bench has no accessibility violation, in both themes, at three sizes, and fits', async () => {
  for (const [name, size] of Object.entries(SIZES)) {
    for (const colorScheme of ['light', 'dark']) {
      const { page, context, bench } = await opened({ ...size, colorScheme });
      assert.deepEqual(await violations(page), [], `${name}, ${colorScheme}, before`);
      await setUp(bench);
      await bench.getByRole('button', { name: 'Take the run at once' }).click();
      assert.deepEqual(await violations(page), [], `${name}, ${colorScheme}`);
      await context.close();
    }
  }
  for (const [name, size] of NARROW) {
    const { page, context, bench } = await opened(size);
    await setUp(bench);
    assert.deepEqual(await tooWide(page), { beyond: 0, wide: [] }, name);
    await context.close();
  }
});

test('a teacher chooses the apparatus on the page, hides a fault, and hands it on as a file', async () => {
  const { page, context, errors, bench } = await opened();
  const choices = bench.locator('details.composed');
  await choices.getByText('Choose the apparatus yourself').click();
  // A quantity stands there in the unit in which one speaks of it.
  assert.equal(await choices.getByLabel('step of the clock', { exact: true }).inputValue(), '10');
  await choices.getByLabel('radius of the drum', { exact: true }).fill('40 mm');
  await choices.getByLabel('radius of the drum, up to').fill('');
  await choices.getByLabel('hanging masses (g)').fill('50; 100; 150; 200');
  await choices.getByLabel('a mass is stamped wrongly').check();
  await choices.getByLabel('which of the hanging masses, counted from 1').fill('2');
  await choices.getByLabel('heavier than stamped by').fill('3 g');
  await choices.getByLabel('shape', { exact: true }).selectOption({ label: 'solid sphere' });
  await choices.getByRole('button', { name: 'Put another object there' }).click();
  const sphere = choices.getByRole('group', { name: /solid sphere|glazed ball/ });
  await sphere.getByLabel('name of the object').fill('glazed ball');
  await choices.getByRole('button', { name: 'Take this object away: oak bar' }).click();
  await choices.getByText('These choices can be used.').waitFor();
  const [download] = await Promise.all([page.waitForEvent('download'), choices.getByRole('button', { name: 'Save as a bench file' }).click()]);
  const text = await textOf(download);
  const file = JSON.parse(text);
  assert.equal(file.drum.radius_m, 0.04);
  assert.equal(file.gate.clock_step_s, 1e-5);
  assert.deepEqual(file.masses_kg, [0.05, 0.1, 0.15, 0.2]);
  assert.deepEqual(file.objects.map((object) => object.name), ['slate disc', 'brass ring', 'clay cylinders', 'glazed ball']);
  const [fault] = file.faults;
  assert.deepEqual([fault.fault, fault.mass, fault.by_kg], ['wrong-stamp', 1, 0.003]);

  // What cannot be is named at once, and is not handed on.
  await choices.getByLabel('radius of the drum, up to').fill('30 mm');
  await choices.getByText('These choices cannot be: at drum.radius_m: the range runs backwards').waitFor();
  assert.equal(await choices.getByRole('button', { name: 'Save as a bench file' }).getAttribute('aria-disabled'), 'true');
  await choices.getByRole('button', { name: 'Back to the usual bench' }).click();
  assert.equal(await choices.getByLabel('radius of the drum, up to').inputValue(), '27');

  // The file gives the choices back, and the bench that is set up is theirs.
  const [chooser] = await Promise.all([page.waitForEvent('filechooser'), bench.getByRole('button', { name: 'A bench file from your instructor…' }).click()]);
  await chooser.setFiles({ name: 'bench.json', mimeType: 'application/json', buffer: Buffer.from(text) });
  await page.waitForFunction(() => document.querySelector('details.composed input[id]') && [...document.querySelectorAll('details.composed label')].some((label) => label.textContent === 'radius of the drum' && document.getElementById(label.htmlFor).value === '40'));
  await setUp(bench, 'FDE-QQT');
  const radius = Number(await station(page, 'Apparatus').getByLabel('drum radius R', { exact: true }).inputValue());
  assert.ok(Math.abs(radius - 40) < 0.2, `${radius}`);
  assert.deepEqual((await bench.getByLabel('hanging mass').locator('option').allInnerTexts()).map((text) => parseInt(text, 10)), [50, 100, 150, 200]);
  assert.deepEqual(errors, []);
  await context.close();
});

test('choosing the apparatus has no accessibility violation, and fits', async () => {
  for (const colorScheme of ['light', 'dark']) {
    const { page, context, bench } = await opened({ colorScheme });
    await bench.getByText('Choose the apparatus yourself').click();
    assert.deepEqual(await violations(page), [], colorScheme);
    await context.close();
  }
  for (const [name, size] of NARROW) {
    const { page, context, bench } = await opened(size);
    await bench.getByText('Choose the apparatus yourself').click();
    assert.deepEqual(await tooWide(page), { beyond: 0, wide: [] }, name);
    await context.close();
  }
});

test('a code gives the same bits here as everywhere', async () => {
  const { page, context, errors, bench } = await opened();
  await setUp(bench, 'FDE-QQT');
  // The run of the fingerprint that crates/core/src/bench/tests.rs holds: the fourth object, the eighth mass.
  await bench.getByLabel('table carries').selectOption({ index: 4 });
  await bench.getByLabel('hanging mass').selectOption({ index: 7 });
  await bench.getByRole('button', { name: 'Take the run at once' }).click();
  await bench.getByText('“run 1” is taken').waitFor();
  const { text } = await saveLab(page);
  const bytes = new Uint8Array(new Float64Array(JSON.parse(text).runs[0].readings.time_s).buffer);
  // The hash of Fowler, Noll and Vo, 64 bits, variant 1a.
  const print = bytes.reduce((hash, byte) => BigInt.asUintN(64, (hash ^ BigInt(byte)) * 0x100000001b3n), 0xcbf29ce484222325n);
  assert.equal(print.toString(16), '470a2abd2bacaafb');
  assert.deepEqual(errors, []);
  await context.close();
});
