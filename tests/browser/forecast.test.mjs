// Predict, observe, explain: said before a run, set beside it afterwards, and kept with the lab.

import assert from 'node:assert/strict';
import { test } from 'node:test';

import { NARROW, SIZES, tooWide, violations } from './inspection.mjs';
import { addRuns, openExample, openLab, saveLab, station, visit } from './lab-page.mjs';
import { browser, host } from './session.mjs';

const TITLE = 'Before a run: what will its graph do?';

/** Gate times of a mass that falls with an acceleration, m/s², past a gate that sees a spoke every 15 mm. */
function gateTimes(acceleration) {
  let rows = 'time (s)\n';
  for (let k = 1; k <= 50; k += 1) rows += `${Math.sqrt((2 * 0.015 * k) / acceleration).toFixed(6)}\n`;
  return rows;
}

const file = (name, acceleration) => ({ name, mimeType: 'text/csv', buffer: Buffer.from(gateTimes(acceleration)) });

/** A lab with one run of 0.2 m/s², and the place opened. */
async function opened(options = {}) {
  const { page, context, errors } = await visit(browser, host, { viewport: { width: 1366, height: 768 }, ...options });
  await station(page, 'Apparatus').getByLabel('travel per spoke s', { exact: true }).fill('15 mm');
  const runs = station(page, 'Runs');
  await runs.getByText(TITLE).click();
  return { page, context, errors, runs, place: runs.locator('.said-before') };
}

async function say(place, slope, factor, reason) {
  await place.getByLabel('Its v(t) will be').selectOption({ label: slope });
  await place.getByLabel(/^How many times as steep/).fill(factor);
  await place.getByLabel('Because').fill(reason);
  await place.getByRole('button', { name: 'Note it down' }).click();
}

const told = async (card, name) => (await card.locator('dt').filter({ hasText: new RegExp(`^${name}$`) }).locator('xpath=following-sibling::dd[1]').innerText()).replace(/[\u202f\u00a0]/g, ' ');

test('what is said before a run stands beside what it did, is explained, and comes back with the lab', async () => {
  const { page, context, errors, runs, place } = await opened();
  await place.getByText('Take one run first').waitFor();
  await addRuns(page, file('empty-20g.csv', 0.2));
  await say(place, 'steeper', '2,5', 'twice the mass pulls, and half of it again');
  await place.getByText('Noted. Now take the run').waitFor();
  const card = place.locator('.card');
  assert.match(await card.innerText(), /The next run, compared with “empty-20g”/);
  assert.match(await card.innerText(), /Not taken yet/);
  assert.equal(await card.getByLabel('How do you explain it?').isVisible(), false, 'nothing to explain yet');

  await addRuns(page, file('empty-50g.csv', 0.5));
  await card.getByText('It came as you said.').waitFor();
  assert.match(await card.innerText(), /“empty-50g” compared with “empty-20g”/);
  assert.match(await told(card, 'You said'), /^steeper, 2\.5 times$/);
  // Made with 0.2 and 0.5 m/s², times rounded to the microsecond.
  const seen = await told(card, 'Seen');
  assert.match(seen, /^steeper: /);
  assert.ok(Math.abs(Number(seen.match(/[\d.]+/)[0]) - 2.5) < 1e-3, seen);
  assert.match(seen, /u = /);
  assert.equal(await card.getByRole('button', { name: 'Take this back' }).isVisible(), false, 'words stay once the run is there');
  // A third run is not spoken of.
  await addRuns(page, file('empty-30g.csv', 0.3));
  assert.match(await card.innerText(), /“empty-50g” compared/);
  const chart = card.locator('figure.chart canvas');
  assert.match(await chart.getAttribute('aria-label'), /Velocity of “empty-50g” and “empty-20g”/);

  await card.getByLabel('How do you explain it?').fill('the net pull grew as the mass did');
  const { text } = await saveLab(page);
  await openExample(page);
  await page.locator('header').getByRole('status').filter({ hasText: 'Opened' }).waitFor();
  await openLab(page, { name: 'again.json', mimeType: 'application/json', buffer: Buffer.from(text) });
  await page.locator('header').getByRole('status').filter({ hasText: '3 runs' }).waitFor();
  await card.getByText('It came as you said.').waitFor();
  assert.equal(await card.getByLabel('How do you explain it?').inputValue(), 'the net pull grew as the mass did');
  assert.match(await told(card, 'because'), /twice the mass/);
  assert.equal(await runs.locator('details.forecasts').getAttribute('open'), '');
  assert.deepEqual(errors, []);
  await context.close();
});

test('a guess that missed is asked about, and one that contradicts itself is not taken', async () => {
  const { page, context, errors, place } = await opened();
  await addRuns(page, file('empty-20g.csv', 0.2));
  // Empty, it is not there for anyone.
  const alert = place.locator('.problem-line');
  await say(place, 'shallower', '2', 'it is heavier');
  assert.match(await alert.textContent(), /less than 1 times as steep/);
  await say(place, 'just as steep', '1', 'all things fall alike');
  assert.match(await alert.textContent(), /leave the number away/);
  await say(place, 'steeper', 'two', 'why');
  assert.match(await alert.textContent(), /two/);
  await say(place, 'steeper', '', '   ');
  assert.match(await alert.textContent(), /why you think so/);
  assert.equal(await place.locator('.card').count(), 0);
  // What was typed is still there to be mended.
  await say(place, 'just as steep', '', 'all things fall alike');
  await place.locator('.card').waitFor();
  assert.equal(await alert.textContent(), '');
  await place.locator('.card').getByRole('button', { name: 'Take this back' }).click();
  assert.equal(await place.locator('.card').count(), 0);
  await say(place, 'just as steep', '', 'all things fall alike');
  await say(place, 'steeper', '1.2', 'a little more mass');
  await addRuns(page, file('empty-50g.csv', 0.5));
  const [same, little] = [place.locator('.card').first(), place.locator('.card').last()];
  await same.getByText('It came otherwise.').waitFor();
  await little.getByText('The direction is as you said, the size is not.').waitFor();
  assert.deepEqual(errors, []);
  await context.close();
});

test('the place has no accessibility violation, in both themes, at three sizes, and fits', async () => {
  const filled = async (options) => {
    const { page, context, place } = await opened(options);
    await addRuns(page, file('empty-20g.csv', 0.2));
    await say(place, 'steeper', '2', 'more mass pulls');
    await addRuns(page, file('empty-50g.csv', 0.5));
    await say(place, 'shallower', '', 'less mass pulls');
    await place.locator('.card').last().waitFor();
    return { page, context };
  };
  for (const [name, size] of Object.entries(SIZES)) {
    for (const colorScheme of ['light', 'dark']) {
      const { page, context } = await filled({ ...size, colorScheme });
      assert.deepEqual(await violations(page), [], `${name}, ${colorScheme}`);
      await context.close();
    }
  }
  for (const [name, size] of NARROW) {
    const { page, context } = await filled(size);
    assert.deepEqual(await tooWide(page), { beyond: 0, wide: [] }, name);
    await context.close();
  }
});
