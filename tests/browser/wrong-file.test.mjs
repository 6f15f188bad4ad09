// Files that cannot be read as runs: each is refused with place and remedy, and stops no other.

import assert from 'node:assert/strict';
import { readFile, readdir } from 'node:fs/promises';
import { after, before, test } from 'node:test';
import { fileURLToPath } from 'node:url';

import { dist, launch } from './browser.mjs';
import { chooseFiles, dropFiles, openLab, problem, station, stationState, visit } from './lab-page.mjs';
import { serve } from './serve.mjs';

const folder = new URL('../labs/wrong/', import.meta.url);
const good = new URL('../labs/twelve/runs/empty-020g.csv', import.meta.url);

// Where each is wrong, and what its message must say to do.
const WRONG = {
  'decimal-commas-between-commas.csv': { line: 2, told: /separate the columns by semicolons or tabs/ },
  'empty.csv': { line: 1, told: /no readings found; expected rows of numbers/ },
  'no-headings.csv': { line: 1, told: /heading does not say .*; choose “.*” or “.*” for this file/ },
  'time-going-backwards.csv': { line: 11, column: 1, told: /time 0\.8 s does not come after 0\.9 s; delete the row or sort/ },
  'unknown-unit.csv': { line: 1, column: 2, told: /unit “ft\/s” is not known here; use/ },
  'utf-16.csv': { line: 1, told: /not plain UTF-8 text; export the table as “CSV UTF-8”/ },
  'word-in-a-number-column.csv': { line: 8, column: 2, told: /“slipped” is not a number; write it like/ },
};

let browser, host;
before(async () => {
  browser = await launch();
  host = await serve(dist);
});
after(async () => {
  await browser?.close();
  await host?.close();
});

async function during(run) {
  const { page, context, errors } = await visit(browser, host);
  try {
    await run(page);
    assert.deepEqual(errors, []);
  } finally {
    await context.close();
  }
}

const refusals = (page) => station(page, 'Runs').getByRole('alert').filter({ hasText: 'Not added' });

test('every wrong file there is has its expectation here', async () => {
  assert.deepEqual((await readdir(folder)).sort(), Object.keys(WRONG).sort());
});

for (const [name, { line, column, told }] of Object.entries(WRONG)) {
  test(`${name} is refused with file, line, column and remedy`, () =>
    during(async (page) => {
      await chooseFiles(page, fileURLToPath(new URL(name, folder)));
      await refusals(page).waitFor();
      const messages = await refusals(page).getByRole('listitem').allInnerTexts();
      assert.ok(messages.length >= 1);
      for (const message of messages) assert.match(message, new RegExp(`^${name}, line \\d+, column \\d+: `));
      assert.match(messages[0], new RegExp(`, line ${line}, column ${column ?? '\\d+'}: `));
      assert.match(messages[0], told);
      assert.ok(await stationState(page, 'Runs', 'none yet').isVisible());
      // Nothing was added, so there is nothing to save.
      assert.equal(await page.getByText('not saved yet').isVisible(), false);
    }));
}

test('a good file among wrong ones is added all the same', () =>
  during(async (page) => {
    const names = Object.keys(WRONG);
    const all = [...names.slice(0, 3).map((name) => new URL(name, folder)), good, ...names.slice(3).map((name) => new URL(name, folder))];
    await chooseFiles(page, all.map((url) => fileURLToPath(url)));
    await stationState(page, 'Runs', '1 run').waitFor();
    assert.ok(await page.getByText('1 run added.').isVisible());
    const messages = await refusals(page).innerText();
    for (const name of names) assert.ok(messages.includes(name), name);
    assert.ok(!messages.includes('empty-020g.csv'));
    await page.getByRole('button', { name: 'Hide these messages' }).click();
    assert.equal(await refusals(page).count(), 0);
  }));

test('dropped files are refused in the same words', () =>
  during(async (page) => {
    const text = await readFile(new URL('unknown-unit.csv', folder), 'utf8');
    await dropFiles(page, [
      { name: 'unknown-unit.csv', text },
      { name: 'empty-020g.csv', text: await readFile(good, 'utf8') },
    ]);
    await stationState(page, 'Runs', '1 run').waitFor();
    assert.match(await refusals(page).innerText(), /unknown-unit\.csv, line 1, column 2: .*ft\/s/);
  }));

test('a good file afterwards takes the messages away', () =>
  during(async (page) => {
    await chooseFiles(page, fileURLToPath(new URL('empty.csv', folder)));
    await refusals(page).waitFor();
    await chooseFiles(page, fileURLToPath(good));
    await stationState(page, 'Runs', '1 run').waitFor();
    assert.equal(await refusals(page).count(), 0);
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
    await stationState(page, 'Runs', '1 run').waitFor();
    assert.ok((await refusals(page).innerText()).includes('<img src=x onerror='));
    await page.getByText('All runs in one table').click();
    await page.getByText('This chart in words and numbers').first().click();
    await stayedText(page);
  }));

test('a hostile heading or field stays text', () =>
  during(async (page) => {
    await dropFiles(page, [
      { name: 'heading.csv', text: `t (s),v (${HOSTILE})\n0,1\n1,2\n2,3\n` },
      { name: 'field.csv', text: `t (s),v (m/s)\n0,1\n1,${HOSTILE}\n2,3\n` },
    ]);
    await refusals(page).waitFor();
    await stayedText(page);
    assert.ok((await refusals(page).innerText()).includes('<img'));
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

test('a file too large is refused before it is read', () =>
  during(async (page) => {
    await page.evaluate(() => {
      // As long as the browser says it is; its bytes are never asked for.
      const size = Object.getOwnPropertyDescriptor(Blob.prototype, 'size');
      Object.defineProperty(Blob.prototype, 'size', {
        get() { return this.name === 'huge.csv' ? 5e8 : size.get.call(this); },
      });
    });
    await dropFiles(page, [{ name: 'huge.csv', text: '0.1\n' }]);
    await refusals(page).waitFor();
    assert.match(await refusals(page).innerText(), /huge\.csv: the file is too large \(500\.0 MB; the limit is .* MB\)\. Cut it/);
  }));
