// The whole job by keyboard alone: from an empty page to a comparison and a saved lab.

import assert from 'node:assert/strict';
import { test } from 'node:test';

import { focused, pick, tabTo } from './keys.mjs';
import { card, interval, result, si, station, stationState, textOf, tray, trayStatus } from './lab-page.mjs';
import { during } from './session.mjs';

/** A disc of 1.4 kg and 10 cm radius, ½ m r², on a wheel of 1.5 × 10⁻³ kg·m² (the plain formulas; noise of 20 µs). */
const DISC = 0.5 * 1.4 * 0.1 ** 2;
const [RADIUS, PITCH, TABLE, FRICTION, GRAVITY] = [0.0255, 0.015, 1.5e-3, 1e-3, 9.81];

/** Cells as a spreadsheet gives them: one reading a row. */
function cells() {
  let state = 5;
  const noise = () => {
    state = (state * 1664525 + 1013904223) % 2 ** 32;
    return 4e-5 * (state / 2 ** 32 - 0.5);
  };
  const rows = ['run\ttable carries\thanging mass (g)\ttime (s)'];
  for (const [load, inertia, masses] of [
    ['empty table', TABLE, [20, 30, 40, 50, 60]],
    ['slate disc', TABLE + DISC, [100, 150, 200, 250, 300]],
  ]) {
    for (const grams of masses) {
      const m = grams / 1000;
      const a = ((m * GRAVITY * RADIUS - FRICTION) * RADIUS) / (inertia + m * RADIUS ** 2);
      for (let k = 1; k <= 56; k += 1) {
        rows.push(`${load} ${grams} g\t${load}\t${grams}\t${(Math.sqrt((2 * PITCH * k) / a) + noise()).toFixed(6)}`);
      }
    }
  }
  return rows.join('\n');
}

async function type(page, name, text) {
  await tabTo(page, { name }, 150);
  await page.keyboard.insertText(text);
}

test('a lab is measured, read, compared and saved without a pointer, in a minute', (t) =>
  during(async (page) => {
    const began = Date.now();
    await type(page, 'drum radius R', '25 mm ± 0.02 mm');
    await type(page, 'string diameter d', '1 ± 0.02');
    await type(page, 'travel per spoke s', '1.5 cm ± 0.01 mm');
    await type(page, 'spokes of the pulley N', '10');
    await stationState(page, 'Apparatus', 'measured').waitFor();

    await type(page, 'Paste cells', cells());
    await tabTo(page, { kind: 'button', name: 'Read these cells' });
    await page.keyboard.press('Enter');
    await trayStatus(page).filter({ hasText: 'read:' }).waitFor();
    await tray(page).getByRole('button', { name: 'Add 10 runs to the lab' }).waitFor();
    await tabTo(page, { kind: 'button', name: 'Add 10 runs to the lab' }, 200);
    await page.keyboard.press('Enter');
    await stationState(page, 'Inertia line', '2 of 2 drawn').waitFor();

    // One chart is read by its keys on the way.
    await tabTo(page, { name: /^Chart: String torque/ }, 200);
    await page.keyboard.press('ArrowRight');
    assert.match(await station(page, 'Inertia line').locator('.reading').first().innerText(), /empty table, 1 of 5/);

    await tabTo(page, { kind: 'select', name: 'shape' }, 200);
    await pick(page, (await focused(page)).value);
    await type(page, 'mass of one M', '1.400 kg ± 0.5 g');
    await type(page, /^radius/, '10 cm ± 0.1 mm');
    await stationState(page, 'Comparison', '1 of 1 compared').waitFor();
    const slate = card(station(page, 'Comparison'), 'slate disc');
    assert.ok(Math.abs(si(await result(slate, 'predicted')) - DISC) < 1e-5);
    const found = interval(await result(card(station(page, 'Object alone'), 'slate disc alone'), 'coverage'));
    assert.ok(found.low < DISC && DISC < found.high, `${found.low} to ${found.high}`);
    await slate.getByText('Agree.').waitFor();

    // Back to the top by the browser's own key, and on to the button.
    await page.keyboard.press('Control+Home');
    await page.evaluate(() => document.activeElement.blur());
    await tabTo(page, { kind: 'button', name: 'Save lab' }, 40);
    const [download] = await Promise.all([page.waitForEvent('download'), page.keyboard.press('Enter')]);
    assert.equal(JSON.parse(await textOf(download)).runs.length, 10);
    const took = (Date.now() - began) / 1000;
    t.diagnostic(`from the empty page to the saved lab by keyboard: ${took.toFixed(1)} s`);
    assert.ok(took < 60, `${took} s`);
  }));
