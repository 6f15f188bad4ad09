// Somebody who has never seen the page: from the empty page to a finished comparison with twelve run files, reading
// what is new on the way. The time is counted (ledger.mjs), not slept.

import assert from 'node:assert/strict';
import { readFile, readdir } from 'node:fs/promises';
import { test } from 'node:test';

import { card, interval, result, si, station, stationState, tray, trayRead, trayStatus } from './lab-page.mjs';
import { Ledger } from './ledger.mjs';
import { during } from './session.mjs';

const folder = new URL('../labs/twelve/', import.meta.url);
const truth = JSON.parse(await readFile(new URL('truth.json', folder), 'utf8'));
const runs = new URL('runs/', folder);
const files = (await readdir(runs)).filter((name) => name.endsWith('.csv')).sort();

const MOST_MINUTES = 6;
/** What the walk takes now; a page that asks for more makes newcomers work. */
const MOST_CLICKS = 9;

/** What stands on the group's sheet: value and standard uncertainty, in the fields' units and order. */
const SHEET = ['25', '0.03', '1', '0.05', '15', '0.01', '10', '9.81', '0.003', '0.05'];
/** The ring on the balance and between calipers: one, grams, then radii in millimeters. */
const RING = ['1', '1105', '1', '60', '0.2', '75', '0.2'];

test(`a newcomer has a comparison from twelve files in ${MOST_MINUTES} minutes and ${MOST_CLICKS} clicks at most`, (t) =>
  during(async (page) => {
    assert.equal(files.length, 12);
    const walk = new Ledger(page);
    const next = page.locator('.next a');
    /** Fills fields one after the other, as Tab leads through them. */
    const fill = async (first, values) => {
      const hasFocus = () => first.evaluate((field) => field === document.activeElement);
      // What came before may have led here, or to the control before it.
      if (!(await hasFocus())) await walk.press('Tab');
      if (!(await hasFocus())) await walk.click(first);
      for (const [index, value] of values.entries()) {
        if (index > 0) await walk.press('Tab');
        // A field that already holds a number is replaced: Tab has marked it; the first perhaps not.
        if (index === 0 && (await first.inputValue()) !== '') await walk.press('Control+a');
        await walk.type(value);
      }
    };

    // The head of the page, and what it says comes first.
    await walk.step('reads the head of the page, follows “Begin with…”', page.getByRole('button', { name: 'Open the example lab' }), async () => {
      await walk.read(next);
      await walk.click(next);
    });
    const drum = station(page, 'Apparatus').getByLabel('drum radius R', { exact: true });
    await walk.step('enters the apparatus', drum, async () => {
      await fill(drum, SHEET);
      await stationState(page, 'Apparatus', 'measured').waitFor();
    });
    await walk.step('follows “Take your first runs…”', next, () => walk.click(next));

    const choose = tray(page).getByLabel('Choose files…');
    await walk.step('chooses twelve files', choose, async () => {
      const dialog = page.waitForEvent('filechooser');
      await walk.click(choose);
      // In the dialog: a file, all of them by Ctrl+A, “Open”.
      walk.look(files.join(' '));
      walk.count(2);
      walk.keys += 2;
      await (await dialog).setFiles(files.map((name) => new URL(name, runs).pathname));
      await trayRead(page, files.length);
    });
    const add = tray(page).getByRole('button', { name: `Add ${files.length} runs to the lab`, exact: true });
    await walk.step('reads the tray and adds all', add, async () => {
      // From its first row to its last.
      await tray(page).locator('table.proposed tbody tr').first().scrollIntoViewIfNeeded();
      await walk.read(tray(page));
      await walk.click(add);
      await trayStatus(page).filter({ hasText: `${files.length} runs added.` }).waitFor();
      await stationState(page, 'Inertia line', '2 of 2 drawn').waitFor();
    });
    const told = (await next.innerText()).trim();
    await walk.step(`follows “${told}”`, next, () => walk.click(next));

    const compared = card(station(page, 'Comparison'), 'ring');
    const shape = compared.getByLabel('shape');
    await walk.step('chooses the object’s shape', shape, () => walk.choose(shape, 'ring or hollow cylinder'));
    const alike = compared.getByLabel('how many alike');
    await walk.step('enters the object’s mass and dimensions', alike, async () => {
      await fill(alike, RING);
      await stationState(page, 'Comparison', '1 of 1 compared').waitFor();
    });
    await walk.step('reads the verdict', compared.locator('.verdict'), async () => {});

    // It is the right comparison: what was put into the files.
    const known = truth.objects_kg_m2['brass ring'];
    const { low, high } = interval(await result(card(station(page, 'Object alone'), 'ring alone'), '95 % coverage interval'));
    assert.ok(low <= known && known <= high, `${known} outside ${low} to ${high}`);
    assert.ok(high - low < 0.05 * known, `${low} to ${high} tells nothing`);
    // ½ M (r₁² + r₂²).
    assert.ok(Math.abs(si(await result(compared, 'predicted')) - 0.5 * 1.105 * (0.06 ** 2 + 0.075 ** 2)) < 1e-6);
    assert.equal(await compared.locator('.verdict strong').innerText(), 'Agree.');

    for (const line of walk.told()) t.diagnostic(line);
    assert.ok(walk.total / 60 <= MOST_MINUTES, `${(walk.total / 60).toFixed(1)} minutes`);
    assert.ok(walk.clicks <= MOST_CLICKS, `${walk.clicks} clicks`);
  }, { viewport: { width: 1366, height: 768 } }));
