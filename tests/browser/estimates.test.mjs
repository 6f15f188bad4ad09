// What the page says of its own results: findings with their remedies, runs by hand, friction by other routes,
// and the intervals checked by simulation.

import assert from 'node:assert/strict';
import { test } from 'node:test';

import { card, measure, openExample, result, si, station, stationState, visit } from './lab-page.mjs';
import { browser, host } from './session.mjs';

const findings = (page) => card(station(page, 'Inertia line'), 'What the runs tell about themselves');
const mass = (page, run) => station(page, 'Runs').getByLabel(`hanging mass of ${run}`, { exact: true });

test('two labels exchanged are named, exchanged back at one click, and that can be undone', async () => {
  const { page, context, errors } = await visit(browser, host);
  await openExample(page);
  await findings(page).scrollIntoViewIfNeeded();
  await findings(page).getByText('spokes').first().waitFor();
  assert.equal(await findings(page).getByText('Mend this first').count(), 0);
  await mass(page, 'empty, 20 g').fill('50');
  await mass(page, 'empty, 50 g').fill('20');
  const finding = findings(page).locator('.finding').filter({ hasText: 'Mend this first' });
  await finding.waitFor();
  const words = await finding.innerText();
  assert.match(words, /“empty, 20 g” and “empty, 50 g”/);
  await finding.getByText('The evidence').click();
  assert.match(await finding.getByRole('table').innerText(), /p\b/);
  await finding.getByRole('button', { name: 'Exchange the two' }).click();
  await finding.waitFor({ state: 'detached' });
  assert.equal(await mass(page, 'empty, 20 g').inputValue(), '20');
  assert.equal(await mass(page, 'empty, 50 g').inputValue(), '50');
  await page.getByRole('button', { name: 'Undo the change' }).click();
  await finding.waitFor();
  assert.equal(await mass(page, 'empty, 20 g').inputValue(), '50');
  assert.deepEqual(errors, []);
  await context.close();
});

test('stopwatch times and typed accelerations make a line of their own', async () => {
  const { page, context, errors } = await visit(browser, host);
  const apparatus = station(page, 'Apparatus');
  await measure(apparatus, 'drum radius', 'R', '25', '0.03');
  await measure(apparatus, 'string diameter', 'd', '1', '0.05');
  await apparatus.getByText('Drop height, a heavy pulley, uncertain masses').click();
  await measure(apparatus, 'drop height', 'h', '80 cm', '2');
  const runs = station(page, 'Runs');
  const row = (index) => runs.getByRole('table', { name: 'Runs of this lab' }).locator('tbody').getByRole('row').nth(index);
  // I = 1.5 g·m², τ_f = 1 mN·m, Rₑ = 25.5 mm: a of each mass, and the time of 0.8 m from rest.
  const radius = 0.0255;
  const a = (m) => ((m * 9.80665 * radius - 1e-3) * radius) / (1.5e-3 + m * radius * radius);
  const time = (m) => Math.sqrt(1.6 / a(m));
  for (const [index, grams] of [20, 50, 80].entries()) {
    await runs.getByRole('button', { name: 'Add run' }).click();
    const late = [-0.01, 0, 0.01].map((late) => (time(grams / 1e3) + late).toFixed(3));
    await row(index).getByLabel(/stopwatch times of/).fill(late.join('; '));
    await row(index).getByLabel(/stopwatch times of/).press('Tab');
    await row(index).getByLabel(/hanging mass of/).fill(String(grams));
  }
  await runs.getByLabel('You have').selectOption('an acceleration');
  await runs.getByRole('button', { name: 'Add run' }).click();
  await row(3).getByLabel(/^a of/).fill(a(0.11).toFixed(5));
  await row(3).getByLabel(/standard uncertainty of a of/).fill('0.0005');
  await row(3).getByLabel(/hanging mass of/).fill('110');
  await stationState(page, 'Inertia line', '1 of 1 drawn').waitFor();
  const empty = card(station(page, 'Inertia line'), 'empty table');
  const moment = si(await result(empty, 'moment of inertia'));
  assert.ok(Math.abs(moment / 1.5e-3 - 1) < 0.02, `${moment}`);

  await empty.getByText('Friction by other routes').click();
  // 1 mN·m over 9.80665 m/s² and 25.5 mm: 4 g.
  await measure(empty, 'balancing mass', 'm', '4', '0.2');
  const routes = empty.getByRole('table').filter({ hasText: 'balancing mass' });
  await routes.waitFor();
  assert.match(await routes.innerText(), /intercept of the line[\s\S]*balancing mass[\s\S]*agrees/);
  assert.deepEqual(errors, []);
  await context.close();
});

test('the intervals are checked by simulation, which can be stopped', async () => {
  const { page, context, errors } = await visit(browser, host);
  await openExample(page);
  const panel = card(station(page, 'Object alone'), 'The intervals, checked by simulation');
  const simulate = panel.getByRole('button', { name: 'Simulate' });
  await simulate.click();
  await panel.getByRole('progressbar').waitFor();
  await panel.getByRole('button', { name: 'Stop' }).click();
  await panel.getByRole('progressbar').waitFor({ state: 'hidden' });
  assert.equal(await panel.getByRole('table').count(), 0);
  await simulate.click();
  const rows = panel.getByRole('table').locator('tbody').getByRole('row');
  await rows.first().waitFor({ timeout: 120_000 });
  // Two of each line, two of each object.
  assert.equal(await rows.count(), 4 * 2 + 3 * 2);
  const slate = await rows.filter({ hasText: 'slate disc: I alone' }).innerText();
  assert.match(slate, /the formula’s uncertainty is confirmed/);
  // Another lab's results do not stay.
  await mass(page, 'empty, 20 g').fill('21');
  await rows.first().waitFor({ state: 'detached' });
  assert.deepEqual(errors, []);
  await context.close();
});

test('budgets say where an uncertainty comes from, in numbers and bars', async () => {
  const { page, context, errors } = await visit(browser, host);
  await openExample(page);
  const object = card(station(page, 'Object alone'), 'slate disc alone');
  await object.getByText('Where the uncertainty comes from').click();
  const rows = object.getByRole('table').locator('tbody').getByRole('row');
  await rows.first().waitFor();
  const shares = await rows.evaluateAll((all) =>
    all.map((row) => [row.cells[2].textContent, Number(row.querySelector('rect').getAttribute('width'))]),
  );
  assert.ok(shares.length >= 5);
  for (const [said, drawn] of shares) {
    const close = said.startsWith('below 0.1') ? drawn <= 0.1 : Math.abs(parseFloat(said) - drawn) <= 0.06 * drawn + 0.06;
    assert.ok(close, `${said} ${drawn}`);
  }
  const sum = shares.reduce((sum, [, drawn]) => sum + drawn, 0);
  assert.ok(Math.abs(sum - 100) < 0.5, `${sum}`);
  assert.deepEqual(errors, []);
  await context.close();
});
