// A whole class drops its files at once on the lab that the teacher prepared, and has its result.

import assert from 'node:assert/strict';
import { test } from 'node:test';

import { classFiles, preparedLab, truth } from './class-files.mjs';
import { card, dropFiles, interval, news, openLab, refusals, result, station, stationState, tray, trayRead, trayRow, trayStatus, visit } from './lab-page.mjs';
import { browser, host } from './session.mjs';

/** From opening the lab to the verdict; with more, a class gives up. */
const MOST_CLICKS = 10;
const BAD = { name: 'ring-99g.csv', buffer: Buffer.from('t (s),v (m/s)\n0,1\n1,slipped\n2,3\n') };

/** The results are there, and each holds what was put into the files. */
async function check(page) {
  const lines = station(page, 'Inertia line');
  for (const load of ['empty table', 'brass ring']) assert.ok(await card(lines, load).isVisible(), load);
  const alone = card(station(page, 'Object alone'), 'brass ring alone');
  for (const [where, true_one] of [
    [card(lines, 'empty table'), truth.table_kg_m2],
    [alone, truth.objects_kg_m2['brass ring']],
  ]) {
    const { low, high } = interval(await result(where, '95 % coverage interval'));
    assert.ok(low <= true_one && true_one <= high, `${true_one} outside ${low} to ${high}`);
    // An interval wide enough holds anything.
    assert.ok(high - low < 0.05 * true_one, `${low} to ${high} is too wide to tell anything`);
  }
  const compared = card(station(page, 'Comparison'), 'brass ring');
  assert.equal(await compared.locator('.verdict strong').innerText(), 'Agree.');
}

test(`24 mixed files and a bad one become a finished lab in ${MOST_CLICKS} clicks at most`, async (context) => {
  const { page, context: memory, errors } = await visit(browser, host);
  let clicks = 0;
  const click = async (target) => {
    clicks += 1;
    await target.click();
  };
  try {
    // A file dialog: the button, and the file in it.
    clicks += 2;
    await openLab(page, { name: 'class.json', mimeType: 'application/json', buffer: Buffer.from(await preparedLab()) });
    await news(page).filter({ hasText: 'The class at the banding wheel' }).waitFor();

    // One drop is counted as one click.
    const files = await classFiles();
    assert.equal(files.length, 24);
    clicks += 1;
    await dropFiles(page, [...files.slice(0, 7), BAD, ...files.slice(7)]);
    await trayRead(page, 25);

    // “Messingring” says nothing of a brass ring to the page; the menu and the choice in it are two clicks.
    for (const name of ['Messingring-50g', 'Messingring 95 g']) {
      const carries = trayRow(page, name).getByLabel('what the table carries in');
      assert.equal(await carries.evaluate((menu) => menu.selectedOptions[0].textContent), 'new object: messingring');
      clicks += 2;
      await carries.selectOption({ label: 'brass ring' });
    }

    await click(tray(page).getByRole('button', { name: 'Add 24 runs to the lab', exact: true }));
    await trayStatus(page).filter({ hasText: '24 runs added.' }).waitFor();
    assert.match(await refusals(page).innerText(), /ring-99g\.csv, line 3, column 2: “slipped” is not a number/);

    assert.ok(await stationState(page, 'Runs', '24 runs').isVisible());
    await stationState(page, 'Comparison', '1 of 1 compared').waitFor();
    await check(page);
    assert.deepEqual(errors, []);
    assert.ok(clicks <= MOST_CLICKS, `${clicks} clicks`);
    context.diagnostic(`${clicks} clicks`);
  } finally {
    await memory.close();
  }
});
