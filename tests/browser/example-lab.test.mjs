// The example lab, as a first visitor opens it.

import assert from 'node:assert/strict';
import { readFile } from 'node:fs/promises';
import { after, before, test } from 'node:test';

import { dist, launch } from './browser.mjs';
import { card, interval, measure, openExample, painted, result, si, station, stationState, visit } from './lab-page.mjs';
import { serve } from './serve.mjs';

const truth = JSON.parse(await readFile(new URL('../reference/banding-wheel-truth.json', import.meta.url), 'utf8'));

let browser, host, page, context, errors;
before(async () => {
  browser = await launch();
  host = await serve(dist);
  ({ page, context, errors } = await visit(browser, host));
  assert.equal(await page.getByRole('note').filter({ hasText: 'Simulated' }).isVisible(), false);
  await openExample(page);
});
after(async () => {
  await browser?.close();
  await host?.close();
});

/** The example lab anew. */
async function afresh(run) {
  const visitor = await visit(browser, host);
  try {
    await openExample(visitor.page);
    await run(visitor.page);
    assert.deepEqual(visitor.errors, []);
  } finally {
    await visitor.context.close();
  }
}

test('it is marked as simulated', async () => {
  const mark = page.getByRole('note').filter({ hasText: 'Simulated readings' });
  assert.ok(await mark.isVisible());
});

test('its 23 runs are listed and every station is done', async () => {
  const rows = station(page, 'Runs').getByRole('table', { name: 'Runs of this lab' }).locator('tbody').getByRole('row');
  assert.equal(await rows.count(), 23);
  for (const [name, words] of [
    ['Apparatus', 'measured'],
    ['Runs', '23 runs'],
    ['Acceleration', '23 of 23 fitted'],
    ['Inertia line', '4 of 4 drawn'],
    ['Object alone', '3 of 3 found'],
    ['Comparison', '3 of 3 compared'],
  ]) {
    assert.ok(await stationState(page, name, words).isVisible(), `${name}: ${words}`);
  }
});

test('the effective radius agrees with what was put in', async () => {
  const text = await station(page, 'Apparatus').locator('p', { hasText: 'Effective radius' }).innerText();
  const [value, u] = text.split('=').slice(1).map(si);
  assert.ok(u > 0 && Math.abs(value - truth.effective_radius_m) < 3 * u, `${text} against ${truth.effective_radius_m} m`);
});

test('the table that carries nothing has the moment of inertia that was put in', async () => {
  const empty = card(station(page, 'Inertia line'), 'empty table');
  const { low, high } = interval(await result(empty, '95 % coverage interval'));
  assert.ok(low <= truth.table_kg_m2 && truth.table_kg_m2 <= high, `${low} to ${high}`);
});

for (const [name, inertia] of Object.entries(truth.objects_kg_m2)) {
  test(`the ${name} alone agrees with what was put in`, async () => {
    const alone = card(station(page, 'Object alone'), `${name} alone`);
    const { low, high } = interval(await result(alone, '95 % coverage interval'));
    assert.ok(low <= inertia && inertia <= high, `${inertia} outside ${low} to ${high}`);
    const value = si(await result(alone, 'moment of inertia'));
    assert.ok(low < value && value < high, `${value} outside its own interval`);
    // An interval wide enough holds anything.
    assert.ok(high - low < 0.1 * value, `${low} to ${high} is too wide to tell anything`);
  });

  test(`the ${name} compares as it should: ${truth.verdicts[name]}`, async () => {
    const compared = card(station(page, 'Comparison'), name);
    const verdict = { agree: 'Agree.', differ: 'Differ.' }[truth.verdicts[name]];
    assert.equal(await compared.locator('.verdict strong').innerText(), verdict);
  });
}

test('every chart is painted, named and told in words', async () => {
  const charts = page.getByRole('figure');
  const count = await charts.count();
  // Velocity and its residuals, the lines and their residuals, the comparison.
  assert.equal(count, 5);
  for (let index = 0; index < count; index += 1) {
    const chart = charts.nth(index);
    await chart.scrollIntoViewIfNeeded();
    const canvas = chart.getByRole('img');
    const name = await canvas.getAttribute('aria-label');
    assert.ok(name.length > 10, `chart ${index + 1} is called “${name}”`);
    const { share, colors } = await painted(canvas);
    assert.ok(share > 0.005 && colors > 8, `${name}: ${colors} colors on ${(100 * share).toFixed(2)} %`);
    const words = await chart.locator('figcaption').innerText();
    assert.match(words, /\d/);
    assert.ok(words.length > 60, words);
    assert.equal(await canvas.getAttribute('aria-describedby'), await chart.locator('figcaption').getAttribute('id'));
  }
});

test('the numbers of the first chart are the run’s readings', async () => {
  const chart = station(page, 'Acceleration').getByRole('figure').first();
  await chart.getByText('This chart in words and numbers').click();
  const table = chart.getByRole('table');
  await table.waitFor();
  const rows = await table.locator('tbody tr').evaluateAll((all) => all.map((row) => [...row.cells].map((cell) => cell.innerText)));
  assert.ok(rows.length > 50, `${rows.length} rows`);
  const head = await table.locator('thead th').allInnerTexts();
  assert.match(head.join(' | '), /time.*s.*velocity.*m\/s/i);
  const flat = rows.flat();
  assert.ok(flat.filter((cell) => /\d/.test(cell)).length > 100);
  assert.ok(flat.every((cell) => !/NaN|inf|undefined/i.test(cell)));
});

test('the working shows equation, values put in, result', async () => {
  const alone = card(station(page, 'Object alone'), 'slate disc alone');
  await alone.getByText('Show the working').click();
  await alone.locator('math').first().waitFor();
  const shown = si(await result(alone, 'moment of inertia'));
  const steps = await alone.locator('math').evaluateAll((all) =>
    all.map((math) => ({
      namespace: math.namespaceURI,
      label: math.getAttribute('aria-label'),
      rows: [...math.querySelectorAll('mtr')].map((row) => row.textContent),
      drawn: math.getBoundingClientRect().height,
    })),
  );
  assert.ok(steps.length >= 1);
  for (const { namespace, rows, drawn, label } of steps) {
    assert.equal(namespace, 'http://www.w3.org/1998/Math/MathML');
    assert.equal(rows.length, 3, label);
    const [equation, substituted, outcome] = rows;
    assert.match(equation, /^\p{L}.*=/u);
    assert.match(substituted, /^=.*\d/);
    assert.match(outcome, /^=.*\d/);
    assert.notEqual(substituted, outcome);
    assert.ok(drawn > 40, `three lines in ${drawn} px`);
    assert.equal(label.split('; ').length, 3);
  }
  const found = steps.map((step) => si(step.rows[2]));
  const nearest = Math.min(...found.map((value) => Math.abs(value / shown - 1)));
  assert.ok(nearest < 1e-3, `${shown} is not among ${found}`);
});

test('every station with a result has its working', async () => {
  for (const name of ['Apparatus', 'Acceleration', 'Inertia line', 'Object alone', 'Comparison']) {
    const summary = station(page, name).getByText('Show the working').last();
    await summary.click();
    const math = station(page, name).locator('math').last();
    await math.waitFor({ timeout: 5000 });
    assert.equal(await math.locator('mtr').count(), 3, name);
  }
});

test('another drum radius changes every moment of inertia at once, by the square of the effective radius', () =>
  afresh(async (page) => {
    const radius = async () => si((await station(page, 'Apparatus').locator('p', { hasText: 'Effective radius' }).innerText()).split('=')[1]);
    const alone = card(station(page, 'Object alone'), 'slate disc alone');
    const before = { radius: await radius(), inertia: si(await result(alone, 'moment of inertia')) };
    // Typed and read without going back to the browser's own work: nothing may be left for later.
    const atOnce = await page.getByLabel('drum radius R', { exact: true }).evaluate(async (field) => {
      field.value = '30';
      field.dispatchEvent(new Event('input', { bubbles: true }));
      await Promise.resolve();
      return document.querySelector('#object dl.outcomes dd').textContent;
    });
    const after = { radius: await radius(), inertia: si(await result(alone, 'moment of inertia')) };
    assert.ok(Math.abs(after.radius - 0.0305) < 1e-5, `${after.radius}`);
    assert.equal(si(atOnce), after.inertia);
    const expected = (after.radius / before.radius) ** 2;
    const found = after.inertia / before.inertia;
    assert.ok(Math.abs(found / expected - 1) < 1e-3, `${found} against ${expected}`);
    await page.getByText(/not saved (yet|as a file yet)$/).waitFor();
  }));

test('g follows from latitude and height', () =>
  afresh(async (page) => {
    await page.getByText('Find g from latitude and height').click();
    const use = page.getByRole('button', { name: 'Use this g' });
    assert.equal(await use.isDisabled(), true);
    await page.getByLabel('latitude (north or south)').fill('52,5');
    await page.getByLabel('height above sea level').fill('34');
    await use.click();
    // Somigliana's formula with the constants of GRS80, less 3.086e-6 per meter.
    const sine = Math.sin((52.5 * Math.PI) / 180) ** 2;
    const expected = (9.7803267715 * (1 + 0.001931851353 * sine)) / Math.sqrt(1 - 0.0066943800229 * sine) - 3.086e-6 * 34;
    const g = await page.getByLabel('local gravity g', { exact: true }).inputValue();
    assert.ok(Math.abs(Number(g) - expected) < 2e-5, `${g} against ${expected}`);
    const u = await page.getByLabel('standard uncertainty u(g) of the local gravity').inputValue();
    assert.equal(Number(u), 0.0003);
  }));

test('parts come and go, and the prediction follows', () =>
  afresh(async (page) => {
    const slate = card(station(page, 'Comparison'), 'slate disc');
    const before = await result(slate, 'predicted');
    await slate.getByRole('button', { name: 'Add a part' }).click();
    const second = slate.getByRole('group', { name: 'Part 2' });
    await second.getByLabel('shape').waitFor();
    assert.match(await result(slate, 'predicted'), /enter the mass/i);
    await measure(second, 'mass of one', 'M', '100', '0.5');
    await measure(second, 'radius', 'r', '2 cm', '0.1');
    // 0.1 kg · (0.02 m)² / 2
    const grown = si(await result(slate, 'predicted')) - si(before);
    assert.ok(Math.abs(grown - 2e-5) < 2e-6, `grew by ${grown}`);
    await slate.getByRole('button', { name: 'Remove part 2' }).click();
    assert.equal(await result(slate, 'predicted'), before);
  }));

test('the clay cylinders agree once they are cylinders off axis', () =>
  afresh(async (page) => {
    const clay = card(station(page, 'Comparison'), 'two clay cylinders');
    await clay.getByLabel('shape').selectOption({ label: 'solid disc or cylinder' });
    await measure(clay, 'radius', 'r', '30', '0.2');
    await measure(clay, 'distance of its center from the axis', 'D', '80', '0.5');
    assert.equal(truth.clay_as_cylinder_off_axis.verdict, 'agree');
    assert.equal(await clay.locator('.verdict strong').innerText(), 'Agree.');
  }));

test('an object that runs carry is not removed, and the page says why', () =>
  afresh(async (page) => {
    const objects = page.getByRole('group', { name: 'Objects put on the table' });
    await objects.getByRole('button', { name: 'Remove the object slate disc' }).click();
    const told = await objects.getByRole('alert').innerText();
    assert.match(told, /6 of the runs carry “slate disc”/);
    assert.equal(await objects.getByRole('listitem').count(), 3);
    assert.ok(await stationState(page, 'Object alone', '3 of 3 found').isVisible());
    // Nothing was changed, so there is nothing to save.
    assert.equal(await page.getByText(/not saved (yet|as a file yet)$/).isVisible(), false);
  }));

test('the next run and the previous one are a button away', () =>
  afresh(async (page) => {
    const shown = page.getByLabel('Run shown');
    const name = () => station(page, 'Acceleration').getByRole('img').first().getAttribute('aria-label');
    const first = await name();
    assert.ok(await page.getByRole('button', { name: 'Previous run' }).isDisabled());
    await page.getByRole('button', { name: 'Next run' }).click();
    assert.notEqual(await name(), first);
    await page.getByRole('button', { name: 'Previous run' }).click();
    assert.equal(await name(), first);
    await shown.selectOption({ label: 'clay, 210 g' });
    assert.match(await name(), /clay, 210 g/);
    assert.ok(await page.getByRole('button', { name: 'Next run' }).isDisabled());
  }));

test('nothing of this was an error', () => {
  assert.deepEqual(errors, []);
});
