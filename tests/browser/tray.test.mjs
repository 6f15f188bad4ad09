// Where files arrive: read, looked at, set right, and only then added to the lab.

import assert from 'node:assert/strict';
import { test } from 'node:test';

import { NARROW, SIZES, tooWide, violations } from './inspection.mjs';
import { focused, focusMovesTo, pick, tabTo } from './keys.mjs';
import { addFromTray, dropFiles, measure, openAllDetails, refusals, station, stationState, tray, trayRead, trayRow, trayStatus } from './lab-page.mjs';
import { browser, during } from './session.mjs';

/** A run that speeds up by 0.2 m/s² from 0.05 m/s, with a ripple of some mm/s; two columns of text. */
function run({ head = 't (s),v (m/s)', between = ',', mark = '.', rows = 60 } = {}) {
  const number = (value, places) => value.toFixed(places).replace('.', mark);
  const line = (_, row) => `${number(0.05 * row, 2)}${between}${number(0.05 + 0.01 * row + 0.002 * Math.sin(7 * row), 4)}`;
  return [head, ...Array.from({ length: rows }, line)].join('\n');
}

/** Every number has three digits behind its mark: thousands or decimals, nothing tells. */
function unclear() {
  const line = (_, row) => `${1 + row},${String(100 + 7 * row)};${2 + row},${String(200 + 9 * row)}`;
  return ['t (ms);x (mm)', ...Array.from({ length: 40 }, line)].join('\n');
}

const GERMAN = { head: 'Zeit (s);Geschwindigkeit (m/s)', between: ';', mark: ',' };
const BAD = 't (s),v (m/s)\n0,1\n1,slipped\n2,3\n';

const loadOf = (row) => row.getByLabel('what the table carries in').evaluate((choice) => choice.selectedOptions[0].textContent);

/** Drops files and waits until all are read. */
async function drop(page, files) {
  const list = Object.entries(files).map(([name, text]) => ({ name, text }));
  await dropFiles(page, list);
  await trayRead(page, list.length);
}

test('one drop gives one table: load, mass, readings and a first look, and nothing in the lab', () =>
  during(async (page) => {
    await page.getByLabel('Another object').fill('brass ring');
    await page.getByRole('button', { name: 'Add object' }).click();
    await drop(page, { 'empty-20g.csv': run(), 'ring-150g.csv': run(GERMAN), 'oak-bar-80g.txt': run({ between: '\t', head: 't (s)\tv (m/s)' }) });
    for (const [name, load, mass] of [
      ['empty-20g', 'empty table', '20'],
      ['ring-150g', 'brass ring', '150'],
      ['oak-bar-80g', /^new object: /, '80'],
    ]) {
      const row = trayRow(page, name);
      assert.match(await loadOf(row), load instanceof RegExp ? load : new RegExp(`^${load}$`), name);
      assert.equal(await row.getByLabel(`hanging mass of ${name}`).inputValue(), mass);
      assert.match(await row.innerText(), /60 velocities in 2\.95\s?s/);
      assert.match(await row.innerText(), /m\/s²/);
      assert.match(await row.getByRole('img').getAttribute('aria-label'), new RegExp(`Speed in ${name}: between .* from 0 to 2\\.\\d+`));
    }
    assert.ok(await stationState(page, 'Runs', 'none yet').isVisible());
    await addFromTray(page, 3);
    assert.ok(await stationState(page, 'Runs', '3 runs').isVisible());
    assert.equal(await tray(page).getByRole('table').count(), 0);
    // The tray is gone and its button with it: what was done has the focus.
    await focusMovesTo(page, { kind: 'p', name: '3 runs added.' });
  }));

test('a new object is made once, however many runs carry it', () =>
  during(async (page) => {
    await drop(page, { 'ring-100g.csv': run(), 'ring-150g.csv': run() });
    await addFromTray(page, 2);
    const objects = page.getByRole('group', { name: 'Objects put on the table' }).getByLabel('name of the object');
    assert.deepEqual(await objects.evaluateAll((all) => all.map((field) => field.value)), ['ring']);
  }));

test('what is changed on the tray is what enters the lab; what is not wanted stays', () =>
  during(async (page) => {
    await drop(page, { 'empty-20g.csv': run(), 'empty-30g.csv': run() });
    const row = trayRow(page, 'empty-20g');
    await row.getByLabel('hanging mass of').fill('25');
    await row.getByLabel('name of empty-20g').fill('first');
    await row.getByLabel('name of').press('Tab');
    await trayRow(page, 'empty-30g').getByRole('checkbox').uncheck();
    await addFromTray(page, 1);
    assert.match(await trayStatus(page).innerText(), /1 run stays on the tray/);
    assert.ok(await trayRow(page, 'empty-30g').isVisible());
    const lab = station(page, 'Runs').getByRole('table', { name: 'Runs of this lab' });
    assert.equal(await lab.getByLabel('name of the run').inputValue(), 'first');
    assert.equal(await lab.getByLabel('hanging mass of').inputValue(), '25');
  }));

test('a run whose load nothing tells waits; one menu sets all of them', () =>
  during(async (page) => {
    await drop(page, { 'a-50g.csv': run(), 'b-60g.csv': run(), 'empty-70g.csv': run() });
    assert.equal(await loadOf(trayRow(page, 'a-50g')), 'please choose');
    assert.match(await trayRow(page, 'a-50g').innerText(), /First choose what the table carries\./);
    assert.match(await tray(page).innerText(), /Not yet: 2 runs \(choose what the table carries\)\./);
    await tray(page).getByLabel('All without a load carry:').selectOption({ label: 'empty table' });
    assert.equal(await loadOf(trayRow(page, 'b-60g')), 'empty table');
    await addFromTray(page, 3);
  }));

test('a hanging mass that is no number keeps its run on the tray', () =>
  during(async (page) => {
    await drop(page, { 'empty-20g.csv': run() });
    const row = trayRow(page, 'empty-20g');
    await row.getByLabel('hanging mass of').fill('heavy');
    assert.match(await row.innerText(), /“heavy” is not a number/);
    assert.ok(await tray(page).getByRole('button', { name: 'Add 0 runs to the lab' }).isDisabled());
    await row.getByLabel('hanging mass of').fill('20');
    await addFromTray(page, 1);
  }));

test('where two readings are possible it asks; one answer goes for all files of the shape, later ones too', () =>
  during(async (page) => {
    await drop(page, { 'empty-20g.csv': unclear(), 'empty-30g.csv': unclear() });
    const asked = tray(page).locator('.asked');
    assert.equal(await asked.count(), 2);
    assert.ok(await trayRow(page, 'empty-20g').getByRole('checkbox').isDisabled());
    assert.ok(await tray(page).getByRole('button', { name: 'Add 0 runs to the lab' }).isDisabled());
    await asked.first().getByRole('button').first().click();
    await trayStatus(page).filter({ hasText: 'Also used for 1 other file of this shape.' }).waitFor();
    await tray(page).getByRole('button', { name: 'Add 2 runs to the lab' }).waitFor();
    assert.equal(await asked.count(), 0);
    await drop(page, { 'empty-40g.csv': unclear() });
    assert.equal(await asked.count(), 0);
    await addFromTray(page, 3);
  }));

test('a column set right is remembered for its shape, and can be forgotten', () =>
  during(async (page) => {
    await drop(page, { 'empty-20g.csv': run(), 'empty-30g.csv': run(), 'empty-40g.csv': run(GERMAN) });
    await tray(page).getByText('How it was read of empty-20g.csv').click();
    const menu = tray(page).getByLabel('column 2, “v (m/s)”, of empty-20g.csv holds');
    await menu.focus();
    await menu.selectOption('position m');
    await trayStatus(page).filter({ hasText: 'Also used for 1 other file of this shape.' }).waitFor();
    for (const name of ['empty-20g', 'empty-30g']) await trayRow(page, name).filter({ hasText: '60 positions' }).waitFor();
    assert.match(await trayRow(page, 'empty-40g').innerText(), /60 velocities/);
    // The menu was built anew, and still has the focus.
    await focusMovesTo(page, { kind: 'select', value: 'position m' });
    await drop(page, { 'empty-50g.csv': run() });
    assert.match(await trayRow(page, 'empty-50g').innerText(), /60 positions/);
    await tray(page).getByRole('button', { name: /^Forget these choices for empty-20g\.csv/ }).click();
    await trayRow(page, 'empty-50g').filter({ hasText: '60 velocities' }).waitFor();
    await trayRow(page, 'empty-20g').filter({ hasText: '60 velocities' }).waitFor();
  }));

test('a lone column of times is of one edge a spoke or of both, as the user says', () =>
  during(async (page) => {
    const times = Array.from({ length: 40 }, (_, edge) => Math.sqrt(0.01 * (edge + 1)).toFixed(5));
    await drop(page, { 'empty-20g.csv': ['t (s)', ...times].join('\n') });
    await tray(page).getByText('How it was read of').click();
    const menu = tray(page).getByLabel('readings of empty-20g.csv');
    assert.equal(await menu.inputValue(), 'gate times, one per spoke');
    await menu.selectOption('gate times, both edges of every spoke');
    await trayStatus(page).filter({ hasText: 'Read again with your choice' }).waitFor();
    await tray(page).getByRole('button', { name: /^Forget these choices/ }).waitFor();
    assert.equal(await menu.inputValue(), 'gate times, both edges of every spoke');
    await addFromTray(page, 1);
  }));

test('how a file was read is told with reasons, and its first rows are shown as text', () =>
  during(async (page) => {
    await drop(page, { 'empty-20g.csv': run({ ...GERMAN, head: '<b>Zeit</b> (s);Geschwindigkeit (m/s)' }) });
    await tray(page).getByText('How it was read of').click();
    for (const [label, value] of [['encoding of empty-20g.csv', 'UTF-8'], ['columns end at of empty-20g.csv', 'semicolons'], ['decimal mark of empty-20g.csv', 'comma']]) {
      const menu = tray(page).getByLabel(label);
      assert.equal(await menu.inputValue(), value);
      const why = page.locator(`[id="${await menu.getAttribute('aria-describedby')}"]`);
      assert.match(await why.innerText(), /^(Sure|Likely): ?./);
    }
    const preview = tray(page).getByRole('table', { name: 'The first of 60 rows of numbers in empty-20g.csv' });
    assert.match(await preview.innerText(), /1 heading\s+<b>Zeit<\/b> \(s\)/);
    assert.match(await preview.innerText(), /2\s+0,00\s+0,0500/);
  }));

test('bad files stand beside good ones, each with place and remedy, and stop nothing', () =>
  during(async (page) => {
    await drop(page, { 'bad.csv': BAD, 'empty-20g.csv': run(), 'nothing.csv': '' });
    assert.equal(await refusals(page).count(), 2);
    assert.match(await refusals(page).first().innerText(), /bad\.csv, line 3, column 2: “slipped” is not a number/);
    await addFromTray(page, 1);
    assert.equal(await refusals(page).count(), 2);
    await tray(page).getByRole('button', { name: 'Clear the tray' }).click();
    assert.equal(await refusals(page).count(), 0);
    await focusMovesTo(page, { kind: 'p', name: 'The tray is empty.' });
  }));

/** Pastes a text into what has the focus, as a browser does after Ctrl+V. */
function paste(page, text) {
  return page.evaluate((cells) => {
    const data = new DataTransfer();
    data.setData('text/plain', cells);
    const event = new ClipboardEvent('paste', { clipboardData: data, bubbles: true, cancelable: true });
    document.activeElement.dispatchEvent(event);
  }, text);
}

test('cells are pasted, or typed and read by a button', () =>
  during(async (page) => {
    const cells = tray(page).getByLabel('Paste cells');
    await cells.focus();
    await paste(page, run({ between: '\t', head: 't (s)\tv (m/s)' }));
    await trayRead(page, 1);
    assert.match(await trayRow(page, 'pasted 1').innerText(), /60 velocities/);
    assert.equal(await cells.inputValue(), '');
    await cells.fill(run());
    await tray(page).getByRole('button', { name: 'Read these cells' }).click();
    await trayRow(page, 'pasted 2').waitFor();
    await tray(page).getByLabel('All without a load carry:').selectOption({ label: 'empty table' });
    await addFromTray(page, 2);
  }));

test('reading can be stopped: what was read stays, and the page answers meanwhile', () =>
  during(async (page) => {
    await page.evaluate((good) => {
      let rows = 't (s),v (m/s)\n';
      for (let row = 0; row < 400_000; row += 1) rows += `${(row / 1000).toFixed(3)},${(1 + (row % 7) / 100).toFixed(2)}\n`;
      const long = new Blob([rows]);
      const data = new DataTransfer();
      data.items.add(new File([good], 'empty-20g.csv'));
      for (let file = 1; file <= 12; file += 1) data.items.add(new File([long], `empty-${20 + file}g.csv`));
      const place = document.querySelector('fieldset.tray');
      place.dispatchEvent(new DragEvent('drop', { dataTransfer: data, bubbles: true, cancelable: true }));
    }, run());
    await trayRow(page, 'empty-20g').waitFor();
    const bar = tray(page).getByRole('progressbar', { name: 'reading' });
    await bar.waitFor();
    await page.getByLabel('Title of this lab').fill('typed meanwhile');
    await tray(page).getByRole('button', { name: 'Stop reading' }).click();
    await trayStatus(page).filter({ hasText: /^Reading stopped\. \d+ files? (was|were) not read\.$/ }).waitFor();
    assert.equal(await bar.count(), 0);
    assert.ok(await trayRow(page, 'empty-20g').isVisible());
    // What comes later is read as ever.
    await drop(page, { 'empty-99g.csv': run() });
    assert.ok(await trayRow(page, 'empty-99g').isVisible());
  }));

test('a change of the apparatus offers to look again', () =>
  during(async (page) => {
    const times = ['gate time (s)', ...Array.from({ length: 40 }, (_, edge) => Math.sqrt(0.15 * (edge + 1)).toFixed(5))].join('\n');
    await drop(page, { 'empty-20g.csv': times });
    const again = tray(page).getByRole('button', { name: 'Look again' });
    assert.equal(await again.count(), 0);
    const cell = trayRow(page, 'empty-20g').locator('[data-label="Acceleration"]');
    const before = await cell.innerText();
    await measure(station(page, 'Apparatus'), 'travel per spoke', 's', '15 mm', '0.01');
    await again.click();
    await page.waitForFunction((text) => !document.querySelector('table.proposed').innerText.includes(text), before);
    assert.match(await cell.innerText(), /m\/s²/);
    assert.equal(await again.count(), 0);
  }));

test('a new lab begins with an empty tray, and still knows the shapes', () =>
  during(async (page) => {
    await drop(page, { 'empty-20g.csv': unclear() });
    await tray(page).locator('.asked').getByRole('button').first().click();
    await tray(page).getByRole('button', { name: 'Add 1 run to the lab' }).waitFor();
    await page.getByRole('button', { name: 'New lab' }).click();
    await tray(page).getByRole('table').waitFor({ state: 'detached' });
    await drop(page, { 'empty-30g.csv': unclear() });
    assert.equal(await tray(page).locator('.asked').count(), 0);
  }));

test('a question is answered, a run set right and added by keyboard alone', () =>
  during(async (page) => {
    await drop(page, { 'bar.csv': unclear() });
    await tray(page).getByLabel('Choose files…').focus();
    await tabTo(page, { kind: 'button', name: /in bar\.csv$/ });
    await page.keyboard.press('Enter');
    // The question is gone; the focus stays with its file.
    await focusMovesTo(page, { kind: 'summary', name: 'How it was read of bar.csv' });
    await tray(page).getByLabel('Choose files…').focus();
    const box = await tabTo(page, { kind: 'checkbox', name: 'take bar' });
    assert.ok(box.checked);
    await tabTo(page, { kind: 'text', name: 'name of bar' });
    await page.keyboard.press('ControlOrMeta+a');
    await page.keyboard.type('fifth');
    await tabTo(page, { kind: 'select', name: 'what the table carries in fifth' });
    await pick(page, 'empty table');
    await tabTo(page, { kind: 'text', name: 'hanging mass of fifth' });
    await page.keyboard.type('55');
    await tabTo(page, { kind: 'button', name: 'Add 1 run to the lab' });
    await page.keyboard.press('Enter');
    await focusMovesTo(page, { kind: 'p', name: '1 run added.' });
    assert.ok((await focused(page)).groups.includes('Add runs from files'));
    assert.ok(await stationState(page, 'Runs', '1 run').isVisible());
  }));

/** Everything the tray can show at once. */
async function fill(page) {
  await drop(page, {
    'empty-20g.csv': run(),
    'a rather long name of a file from the slate disc on the banding wheel-150g.csv': run(GERMAN),
    'gate.csv': ['gate time (s)', '0.5', '0.8', '1.1'].join('\n'),
    'unclear.csv': unclear(),
    'bad.csv': BAD,
  });
  await openAllDetails(page);
}

for (const [where, size] of Object.entries(SIZES)) {
  for (const colorScheme of ['light', 'dark']) {
    test(`axe-core finds nothing on a full tray ${where}, ${colorScheme}`, () =>
      during(
        async (page) => {
          await fill(page);
          assert.deepEqual(await violations(page), []);
        },
        { ...size, colorScheme },
      ));
  }
}

for (const [where, options] of NARROW) {
  test(`a full tray does not scroll sideways ${where}`, () =>
    during(async (page) => {
      await fill(page);
      assert.deepEqual(await tooWide(page), { beyond: 0, wide: [] });
    }, options));
}

test('every control of a full tray has a name of its own and is 24 px or more', () =>
  during(async (page) => {
    await fill(page);
    const found = await tray(page).locator('button, input:not([type="file"]), select, summary').evaluateAll((all) =>
      all
        .filter((control) => control.checkVisibility())
        .map((control) => {
          const { width, height } = control.getBoundingClientRect();
          return { name: control.getAttribute('aria-label') ?? control.labels?.[0]?.textContent ?? control.textContent, small: Math.min(width, height) < 24 };
        }),
    );
    const names = found.map(({ name }) => name);
    assert.deepEqual(names.filter((name, index) => names.indexOf(name) !== index), [], 'named alike');
    assert.deepEqual(found.filter(({ small }) => small).map(({ name }) => name), [], 'too small');
  }));
