// A student without apparatus: from a link to a recorded lab, by watching its runs, to a result that is handed in.

import assert from 'node:assert/strict';
import { readFile } from 'node:fs/promises';
import { test } from 'node:test';

import { interval, news, result, saveLab, si, station, stationState, visit } from './lab-page.mjs';
import { browser, host } from './session.mjs';

const RECORD = JSON.parse(await readFile(new URL('../../web/library/brass-ring.json', import.meta.url), 'utf8'));

test('a link opens a record: it is watched, foretold, fitted, compared and handed in', async () => {
  const { page, context, errors } = await visit(browser, { url: `${host.url}#lab=library/brass-ring.json` }, { viewport: { width: 1366, height: 768 } });
  await news(page).filter({ hasText: '12 runs' }).waitFor();
  await page.getByText('Simulated readings.').first().waitFor();

  // Said before it is looked at: three times the mass on the same table.
  const runs = station(page, 'Runs');
  await runs.getByText('Before a run: what will its graph do?').click();
  const place = runs.locator('.said-before');
  await place.getByLabel('The run that I speak of').selectOption({ label: 'empty, 68 g' });
  await place.getByLabel('Compared with').selectOption({ label: 'empty, 20 g' });
  await place.getByLabel('Its v(t) will be').selectOption({ label: 'steeper' });
  await place.getByLabel('Because').fill('more mass pulls on the same table');
  await place.getByRole('button', { name: 'Note it down' }).click();
  await place.getByText('It came as you said.').waitFor();
  await place.getByLabel('How do you explain it?').fill('friction takes a fixed part, so the pull left over grows faster than the mass');

  // Watched to its end.
  const acceleration = station(page, 'Acceleration');
  await acceleration.getByLabel('Run shown', { exact: true }).selectOption({ label: 'empty, 68 g' });
  const watched = acceleration.locator('.one-run');
  await watched.getByText('Watch this run').click();
  await watched.getByLabel('Speed').selectOption('8');
  await watched.getByRole('button', { name: 'Play' }).click();
  await watched.getByRole('button', { name: 'Play' }).waitFor();
  assert.equal(await acceleration.locator('.drawing').getAttribute('data-phase'), 'after');

  // Fitted and compared: the simulator's ring lies in the interval that the student may state.
  await stationState(page, 'Acceleration', '12 of 12 fitted').waitFor();
  await stationState(page, 'Comparison', '1 of 1 compared').waitFor();
  const object = station(page, 'Object alone');
  const value = si(await result(object, 'moment of inertia'));
  const stated = interval(await object.innerText());
  assert.ok(stated.low < value && value < stated.high, `${value} in ${stated.low} to ${stated.high}`);
  const ring = RECORD.objects[0].parts[0];
  const [outer, inner] = ring.dimensions_m.map((dimension) => dimension.value);
  // Of a ring about its axis, from its own weights and widths: I = m (R₁² + R₂²)/2 (handbooks; value from memory).
  const predicted = (ring.mass_kg.value * (outer ** 2 + inner ** 2)) / 2;
  assert.ok(Math.abs(value / predicted - 1) < 0.05, `${value}, formula ${predicted}`);

  // Handed in: a file with the very readings, the student's choices and words.
  const { text } = await saveLab(page);
  const handed = JSON.parse(text);
  assert.deepEqual(handed.runs.map((run) => run.readings), RECORD.runs.map((run) => run.readings));
  assert.deepEqual(handed.dataset, RECORD.dataset);
  const [said] = JSON.parse(handed.forecasts);
  assert.equal(said.slope, 'steeper');
  assert.match(said.explanation, /friction takes a fixed part/);
  assert.deepEqual(errors, []);
  await context.close();
});
