// A run is watched: what is drawn and told comes from the readings.

import assert from 'node:assert/strict';
import { readFile } from 'node:fs/promises';
import { test } from 'node:test';

import { NARROW, SIZES, tooWide, violations } from './inspection.mjs';
import { openExample, station, visit } from './lab-page.mjs';
import { browser, host } from './session.mjs';

const EXAMPLE = JSON.parse(await readFile(new URL('../../web/samples/banding-wheel.json', import.meta.url), 'utf8'));

/** The example's first run, opened to be watched. */
async function watching(options = {}) {
  const { page, context, errors } = await visit(browser, host, { viewport: { width: 1366, height: 768 }, ...options });
  await openExample(page);
  const acceleration = station(page, 'Acceleration');
  await acceleration.getByText('Watch this run').click();
  const drawing = acceleration.getByRole('img', { name: 'Drawing of the run: turntable, string, pulley with its gate, falling mass' });
  await drawing.waitFor();
  return { page, context, errors, acceleration, drawing, slider: acceleration.getByLabel('Moment') };
}

const moment = async (slider) => Number(await slider.inputValue());
/** How far the mass has come down, as a share of the height of what moves with it. */
const height = (drawing) => drawing.locator('.hanging').evaluate((hanging) => new DOMMatrix(getComputedStyle(hanging).transform).f / hanging.clientHeight);
/** A number of the list, by its name. */
const number = async (acceleration, name) => {
  const text = await acceleration.locator('.moment-numbers dt').filter({ hasText: new RegExp(`^${name} `) }).locator('xpath=following-sibling::dd[1]').innerText();
  return Number(text.replace('−', '-').match(/-?[\d.]+/)[0]);
};

test('a run plays in its own time, stops, and shows what the readings say', async () => {
  const { context, errors, acceleration, drawing, slider } = await watching();
  const [began, high] = [await moment(slider), await height(drawing)];
  await acceleration.getByRole('button', { name: 'Play' }).click();
  const clock = performance.now();
  await acceleration.page().waitForTimeout(1500);
  await acceleration.getByRole('button', { name: 'Pause' }).click();
  const passed = (performance.now() - clock) / 1000;
  const now = await moment(slider);
  // The slider holds hundredths of the record; frames may be lost on a busy machine, time is not.
  assert.ok(now - began > 0.6 * passed && now - began < 1.2 * passed, `${now - began} s in ${passed} s`);
  assert.ok((await height(drawing)) > high + 0.05, 'the mass is lower');
  const standing = await moment(slider);
  await acceleration.page().waitForTimeout(300);
  assert.equal(await moment(slider), standing);
  assert.deepEqual(errors, []);
  await context.close();
});

test('what moves by itself is where the readings say, and comes to rest there', async () => {
  const { page, context, acceleration, drawing, slider, errors } = await watching();
  // Worked out here from the file alone: between two gate times the travel is taken as even.
  const { time_s: times } = EXAMPLE.runs[0].readings;
  const passed = (time) => {
    const later = Math.min(Math.max(times.findIndex((other) => other > time), 1), times.length - 1);
    return later - 1 + (time - times[later - 1]) / (times[later] - times[later - 1]);
  };
  const began = await moment(slider);
  await acceleration.locator('.account').getByRole('button', { name: /The good stretch ends/ }).click();
  const ended = await moment(slider);
  const low = await height(drawing);
  await acceleration.getByRole('button', { name: 'To the start of the good stretch' }).click();
  const high = await height(drawing);
  await acceleration.getByRole('button', { name: 'Play' }).click();
  const seen = await drawing.locator('.hanging').evaluate(async (hanging) => {
    const seen = [];
    for (let k = 0; k < 40; k += 1) {
      await new Promise((done) => requestAnimationFrame(done));
      const [animation] = hanging.getAnimations();
      // It begins a twentieth of a second before the moment at which the run was set going.
      if (animation) seen.push([animation.currentTime / 1000 - 0.05, new DOMMatrix(getComputedStyle(hanging).transform).f / hanging.clientHeight]);
    }
    return seen;
  });
  assert.ok(seen.length > 30, `${seen.length} frames`);
  for (const [time, at] of seen.filter(([time]) => time > 0.02)) {
    const share = (passed(began + time) - passed(began)) / (passed(ended) - passed(began));
    assert.ok(Math.abs((at - high) / (low - high) - share) < 0.01, `${time} s: ${at}, ${share}`);
  }
  await acceleration.getByRole('button', { name: 'Pause' }).click();
  assert.equal(await drawing.evaluate((drawing) => drawing.getAnimations({ subtree: true }).length), 0);
  const stands = await height(drawing);
  assert.ok(stands >= seen.at(-1)[1] && stands < low, 'it stays where it was stopped');
  assert.deepEqual(errors, []);
  await page.close();
  await context.close();
});

test('velocity and tension at a moment are those of the readings around it', async () => {
  const { context, acceleration, errors } = await watching();
  // Worked out here from the file alone: the parabola through eleven neighboring gate times has, at its middle one, the
  // slope and curvature that Savitzky and Golay (Anal. Chem. 36 (1964) 1627) give for evenly spaced places. Times are
  // not evenly spaced, so it is fitted outright.
  const run = EXAMPLE.runs[0];
  const travel = EXAMPLE.apparatus.travel_per_spoke_m.value;
  const times = run.readings.time_s;
  const forward = acceleration.getByRole('button', { name: 'One reading on' });
  for (let step = 0; step < 12; step += 1) await forward.click();
  const shown = await number(acceleration, 'time');
  const index = times.findIndex((time) => Math.abs(time - shown) < 2e-4);
  assert.ok(index > 5, `the moment ${shown} s is a reading`);
  const near = times.slice(index - 5, index + 6).map((time, k) => [time - times[index], (k - 5) * travel]);
  const sum = (power, weight = 0) => near.reduce((all, [t, x]) => all + t ** power * (weight ? x : 1), 0);
  // Normal equations of a parabola, solved by Cramer's rule.
  const rows = [0, 1, 2].map((row) => [sum(row), sum(row + 1), sum(row + 2), sum(row, 1)]);
  const det = (m) => m[0][0] * (m[1][1] * m[2][2] - m[1][2] * m[2][1]) - m[0][1] * (m[1][0] * m[2][2] - m[1][2] * m[2][0]) + m[0][2] * (m[1][0] * m[2][1] - m[1][1] * m[2][0]);
  const coefficient = (column) => det(rows.map((row) => row.slice(0, 3).map((value, k) => (k === column ? row[3] : value)))) / det(rows.map((row) => row.slice(0, 3)));
  const velocity = coefficient(1);
  const tension = run.hanging_mass_kg * (EXAMPLE.apparatus.gravity_m_per_s2.value - 2 * coefficient(2));
  const [v, tensionShown] = [await number(acceleration, 'velocity'), await number(acceleration, 'tension')];
  assert.ok(Math.abs(v / velocity - 1) < 1e-3, `${v} ${velocity}`);
  assert.ok(Math.abs(tensionShown / tension - 1) < 1e-3, `${tensionShown} ${tension}`);
  assert.deepEqual(errors, []);
  await context.close();
});

test('the account goes to each moment, and the run ends by itself or begins again', async () => {
  const { page, context, acceleration, drawing, slider, errors } = await watching();
  const account = acceleration.locator('.account');
  await account.getByRole('button', { name: /^Go to .*The good stretch ends/ }).click();
  const end = await moment(slider);
  assert.equal(await account.locator('li[aria-current]').count(), 1);
  assert.match(await account.locator('li[aria-current]').innerText(), /The good stretch ends/);
  assert.equal(await drawing.getAttribute('data-phase'), 'within');
  await acceleration.getByLabel('Speed').selectOption('8');
  await acceleration.getByRole('button', { name: 'Play' }).click();
  await acceleration.getByRole('button', { name: 'Play' }).waitFor();
  const last = await moment(slider);
  assert.ok(last > end);
  assert.equal(await drawing.getAttribute('data-phase'), 'after');
  assert.equal(await drawing.locator('.tension').first().isVisible(), false, 'no force where none is known');
  assert.match(await acceleration.locator('.moment-numbers').innerText(), /not known here/);
  await acceleration.getByLabel('Begin again at the end').check();
  await acceleration.getByRole('button', { name: 'Play' }).click();
  await page.waitForFunction(([input, end]) => Number(input.value) < end, [await slider.elementHandle(), end]);
  await acceleration.getByRole('button', { name: 'Pause' }).click();
  assert.deepEqual(errors, []);
  await context.close();
});

test('keys alone play, step, slide and change the speed', async () => {
  const { page, context, acceleration, slider, errors } = await watching();
  await acceleration.getByRole('button', { name: 'Play' }).focus();
  await page.keyboard.press('Space');
  await acceleration.getByRole('button', { name: 'Pause' }).waitFor();
  await page.keyboard.press('Space');
  const stopped = await moment(slider);
  await acceleration.getByRole('button', { name: 'One reading back' }).focus();
  await page.keyboard.press('Enter');
  const back = await moment(slider);
  assert.ok(back < stopped);
  await slider.focus();
  await page.keyboard.press('ArrowRight');
  assert.ok((await moment(slider)) > back);
  assert.match(await slider.getAttribute('aria-valuetext'), /^At [\d.]+\ss/);
  await page.keyboard.press('End');
  assert.match(await slider.getAttribute('aria-valuetext'), /after the good stretch/);
  assert.deepEqual(errors, []);
  await context.close();
});

test('where less motion is asked for, the drawing goes on in steps', async () => {
  const { page, context, acceleration, drawing } = await watching({ reducedMotion: 'reduce' });
  await acceleration.getByText('Your device asks for less motion').waitFor();
  await drawing.evaluate((drawing) => {
    globalThis.changes = new Set();
    const hanging = drawing.querySelector('.hanging');
    new MutationObserver(() => globalThis.changes.add(hanging.style.transform)).observe(hanging, { attributes: true });
  });
  await acceleration.getByRole('button', { name: 'Play' }).click();
  await page.waitForTimeout(2600);
  const changes = await page.evaluate(() => globalThis.changes.size);
  assert.ok(changes >= 2 && changes <= 6, `${changes} pictures in 2.6 s`);
  await context.close();
});

test('a typed run says that there is nothing to watch', async () => {
  const { page, context } = await visit(browser, host);
  await station(page, 'Runs').getByLabel('You have').selectOption('acceleration');
  await station(page, 'Runs').getByRole('button', { name: 'Add run' }).click();
  await station(page, 'Acceleration').getByText('Watch this run').click();
  await station(page, 'Acceleration').getByText('there are no readings to watch').waitFor();
  await context.close();
});

test('watching a run has no accessibility violation, in both themes, at three sizes, and fits', async () => {
  for (const [name, size] of Object.entries(SIZES)) {
    for (const colorScheme of ['light', 'dark']) {
      const { page, context } = await watching({ ...size, colorScheme });
      assert.deepEqual(await violations(page), [], `${name}, ${colorScheme}`);
      await context.close();
    }
  }
  for (const [name, size] of NARROW) {
    const { page, context } = await watching(size);
    assert.deepEqual(await tooWide(page), { beyond: 0, wide: [] }, name);
    await context.close();
  }
});
