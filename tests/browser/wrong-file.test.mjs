// Files that are not plain runs: each is refused with place and remedy, asked about, or read with a remark,
// and stops no other.

import assert from 'node:assert/strict';
import { readFile, readdir } from 'node:fs/promises';
import { test } from 'node:test';
import { fileURLToPath } from 'node:url';

import { addFromTray, chooseFiles, dropFiles, openAllDetails, openLab, problem, refusals, station, stationState, tray, trayRead, trayRow } from './lab-page.mjs';
import { during } from './session.mjs';

const folder = new URL('../labs/wrong/', import.meta.url);
const good = new URL('../labs/twelve/runs/empty-020g.csv', import.meta.url);

// Where each is wrong, and what its message must say to do.
const REFUSED = {
  'decimal-commas-between-commas.csv': { line: 2, told: /separate the columns by semicolons or tabs/ },
  'empty.csv': { line: 1, told: /no readings found; expected rows of numbers/ },
};

// What must be answered before a run can be taken.
const ASKED = {
  'no-headings.csv': { asks: /Column 2/, answer: /velocity m\/s/ },
  'unknown-unit.csv': { asks: /“ft\/s”/, answer: /velocity m\/s/ },
};

// What is read all the same, and what is said about it.
const READ = {
  'time-going-backwards.csv': { holds: /12 velocities/, remark: /order of time|out of place|wrong place|moved/i },
  'utf-16.csv': { holds: /velocities/ },
  'word-in-a-number-column.csv': { holds: /11 velocities/, remark: /Line 8: This row is left out: column 2, “slipped” is not a number; write it like/ },
};

test('every wrong file there is has its expectation here', async () => {
  const expected = [REFUSED, ASKED, READ].flatMap(Object.keys);
  assert.deepEqual((await readdir(folder)).sort(), expected.sort());
});

const pathOf = (name) => fileURLToPath(new URL(name, folder));

async function nothingEntered(page) {
  assert.ok(await stationState(page, 'Runs', 'none yet').isVisible());
  // Nothing was added, so there is nothing to save.
  assert.equal(await page.getByText(/not saved (yet|as a file yet)$/).isVisible(), false);
}

for (const [name, { line, column, told }] of Object.entries(REFUSED)) {
  test(`${name} is refused with file, line, column and remedy`, () =>
    during(async (page) => {
      await chooseFiles(page, pathOf(name));
      await trayRead(page, 1);
      const messages = await refusals(page).getByRole('listitem').allInnerTexts();
      assert.ok(messages.length >= 1);
      for (const message of messages) assert.match(message, new RegExp(`^${name}, line \\d+, column \\d+: `));
      assert.match(messages[0], new RegExp(`, line ${line}, column ${column ?? '\\d+'}: `));
      assert.match(messages[0], told);
      await nothingEntered(page);
    }));
}

for (const [name, { asks, answer }] of Object.entries(ASKED)) {
  test(`${name} raises a question, and is not taken before it is answered`, () =>
    during(async (page) => {
      await chooseFiles(page, pathOf(name));
      await trayRead(page, 1);
      const question = tray(page).locator('.asked');
      assert.ok((await question.first().innerText()).includes(name));
      assert.match(await question.first().innerText(), asks);
      assert.ok(await question.getByRole('button', { name: answer }).first().isVisible());
      assert.ok(await tray(page).getByRole('button', { name: 'Add 0 runs to the lab' }).isDisabled());
      await nothingEntered(page);
    }));
}

for (const [name, { holds, remark }] of Object.entries(READ)) {
  test(`${name} is read`, () =>
    during(async (page) => {
      await chooseFiles(page, pathOf(name));
      await trayRead(page, 1);
      assert.match(await trayRow(page, name.replace('.csv', '')).innerText(), holds);
      await openAllDetails(page);
      if (remark) assert.match(await tray(page).innerText(), remark);
      assert.equal(await refusals(page).count(), 0);
      await nothingEntered(page);
    }));
}

test('a good file among wrong ones is added all the same', () =>
  during(async (page) => {
    const names = Object.keys(REFUSED);
    const all = [pathOf(names[0]), fileURLToPath(good), ...names.slice(1).map(pathOf)];
    await chooseFiles(page, all);
    await trayRead(page, all.length);
    await addFromTray(page, 1);
    await stationState(page, 'Runs', '1 run').waitFor();
    const messages = (await refusals(page).allInnerTexts()).join('\n');
    for (const name of names) assert.ok(messages.includes(name), name);
    assert.ok(!messages.includes('empty-020g.csv'));
    await tray(page).getByRole('button', { name: 'Clear the tray' }).click();
    assert.equal(await refusals(page).count(), 0);
    assert.ok(await stationState(page, 'Runs', '1 run').isVisible());
  }));

test('dropped files are refused in the same words', () =>
  during(async (page) => {
    const text = await readFile(new URL('decimal-commas-between-commas.csv', folder), 'utf8');
    await dropFiles(page, [
      { name: 'commas.csv', text },
      { name: 'empty-020g.csv', text: await readFile(good, 'utf8') },
    ]);
    await trayRead(page, 2);
    assert.match(await refusals(page).innerText(), /commas\.csv, line 2, column 3: .*semicolons or tabs/);
    await addFromTray(page, 1);
  }));

test('a wrong file can be taken off the tray by itself', () =>
  during(async (page) => {
    await chooseFiles(page, [pathOf('empty.csv'), fileURLToPath(good)]);
    await trayRead(page, 2);
    await tray(page).getByRole('button', { name: 'Take off the tray empty.csv' }).click();
    assert.equal(await refusals(page).count(), 0);
    assert.ok(await trayRow(page, 'empty-020g').isVisible());
  }));

const HOSTILE = '<img src=x onerror="window.taken=1"><script>window.taken=1</script>';

/** Nothing of a hostile text became an element or ran. */
async function stayedText(page) {
  // An image that fails to load would say so in a moment.
  await page.waitForTimeout(300);
  const found = await page.evaluate(() => ({
    taken: window.taken,
    images: document.querySelectorAll('img[src="x"]').length,
    scripts: [...document.body.querySelectorAll('script')].filter((script) => script.textContent.includes('taken')).length,
  }));
  assert.deepEqual(found, { taken: undefined, images: 0, scripts: 0 });
}

test('a hostile file name stays text, in a message and in the list', () =>
  during(async (page) => {
    const text = await readFile(good, 'utf8');
    await dropFiles(page, [
      { name: `${HOSTILE}.csv`, text: '' },
      { name: `${HOSTILE}-20g.csv`, text },
    ]);
    await trayRead(page, 2);
    assert.ok((await refusals(page).innerText()).includes('<img src=x onerror='));
    await openAllDetails(page);
    await stayedText(page);
    const carries = tray(page).getByLabel('what the table carries in');
    if ((await carries.inputValue()) === '') await carries.selectOption({ label: 'empty table' });
    await addFromTray(page, 1);
    await station(page, 'Acceleration').getByRole('figure').first().waitFor();
    await openAllDetails(page);
    await stayedText(page);
  }));

test('a hostile heading or field stays text', () =>
  during(async (page) => {
    await dropFiles(page, [
      { name: 'heading.csv', text: `t (s),v (${HOSTILE})\n0,1\n1,2\n2,3\n` },
      { name: 'field.csv', text: `t (s),v (m/s)\n0,1\n1,${HOSTILE}\n2,3\n` },
    ]);
    await trayRead(page, 2);
    await openAllDetails(page);
    await stayedText(page);
    assert.ok((await tray(page).innerText()).includes('<img'));
  }));

test('hostile words in a lab file stay text', () =>
  during(async (page) => {
    const lab = JSON.parse(await readFile(new URL('../../web/samples/banding-wheel.json', import.meta.url), 'utf8'));
    lab.title = HOSTILE;
    lab.notes = HOSTILE;
    for (const entry of [...lab.objects, ...lab.runs]) entry.name = HOSTILE;
    await openLab(page, { name: 'lab.json', mimeType: 'application/json', buffer: Buffer.from(JSON.stringify(lab)) });
    await stationState(page, 'Runs', '23 runs').waitFor();
    await stayedText(page);
    const [first, ...others] = lab.runs;
    const broken = { ...lab, runs: [{ ...first, readings: { file: `${HOSTILE}.csv`, kind: null } }, ...others] };
    await openLab(page, { name: `${HOSTILE}.json`, mimeType: 'application/json', buffer: Buffer.from(JSON.stringify(broken)) });
    await problem(page).filter({ hasText: '<img' }).waitFor();
    await stayedText(page);
  }));

test('a file too large is refused with its limit and what to do', () =>
  during(async (page) => {
    // 2²⁸ bytes of spaces: beyond any limit, quickly made, and not kept in memory twice.
    await page.evaluate(() => {
      const part = new Blob([' '.repeat(2 ** 20)]);
      const data = new DataTransfer();
      data.items.add(new File(Array(256).fill(part), 'huge.csv'));
      const place = document.querySelector('fieldset.tray');
      place.dispatchEvent(new DragEvent('drop', { dataTransfer: data, bubbles: true, cancelable: true }));
    });
    await trayRead(page, 1);
    assert.match(await refusals(page).innerText(), /huge\.csv.*too large.*limit/s);
    assert.ok(await station(page, 'Runs').getByText('No runs yet').isVisible());
  }));
