// Nothing is lost: what is entered comes back with the page, can be taken back, and is in one tab at a time.

import assert from 'node:assert/strict';
import { test } from 'node:test';

import { listenForErrors } from './browser.mjs';
import { SIZES, tooWide, violations } from './inspection.mjs';
import { everythingShown, kept, openExample, ready, saveLab, station, stationState, visit } from './lab-page.mjs';
import { browser, during, host } from './session.mjs';

const radius = (page) => page.getByLabel('drum radius R', { exact: true });
const title = (page) => page.getByLabel('Title of this lab');
const notice = (page, words) => page.getByRole('banner').getByRole('status').filter({ hasText: words });
const undo = (page, what) => page.getByRole('button', { name: `Undo: ${what}`, exact: true });
const redo = (page, what) => page.getByRole('button', { name: `Redo: ${what}`, exact: true });

/** Fills the title. */
async function name(page, words) {
  await title(page).fill(words);
}

test('after a reload the lab is back as it was, and closing the tab needs no question', async () => {
  await during(async (page) => {
    page.on('dialog', (dialog) => assert.fail(`asked: ${dialog.message()}`));
    await openExample(page);
    await radius(page).fill('25.02');
    await kept(page);
    const before = await everythingShown(page);
    const { text } = await saveLab(page);
    await radius(page).fill('25.03');
    await radius(page).fill('25.02');
    await kept(page);
    await page.reload();
    await notice(page, 'Your lab “Banding wheel').waitFor();
    assert.deepEqual(await everythingShown(page), before);
    assert.equal((await saveLab(page)).text, text);
  });
});

test('the next visit takes up the last lab; a new one can be begun, and the old one opened again', async () => {
  await during(async (page) => {
    await name(page, 'Monday');
    await radius(page).fill('25');
    await kept(page);
    const second = await page.context().newPage();
    await page.close();
    await second.goto(host.url);
    await ready(second);
    await notice(second, 'Your lab “Monday” is back').waitFor();
    assert.equal(await radius(second).inputValue(), '25');
    await second.getByRole('button', { name: 'Start a new lab' }).click();
    assert.equal(await radius(second).inputValue(), '');
    await name(second, 'Tuesday');
    await kept(second);

    await second.getByText('Labs kept in this browser', { exact: true }).click();
    const shelf = second.getByRole('list').filter({ hasText: 'last changed' });
    await shelf.getByText('Monday, 0 runs').waitFor();
    assert.match(await shelf.innerText(), /Tuesday, 0 runs, last changed .*\n? ?open in this tab/);
    await shelf.getByRole('button', { name: /^Open “Monday”/ }).click();
    await notice(second, 'Your lab “Monday” is back').waitFor();
    assert.equal(await title(second).inputValue(), 'Monday');

    second.on('dialog', (dialog) => dialog.accept());
    await shelf.getByRole('button', { name: /^Remove “Tuesday”/ }).click();
    await second.getByText('“Tuesday” is no longer kept in this browser.').first().waitFor();
    assert.equal(await shelf.getByText('Tuesday').count(), 0);
    await second.reload();
    await notice(second, 'Your lab “Monday” is back').waitFor();
  });
});

test('changes everywhere are taken back and done again, one by one', async () => {
  await during(async (page) => {
    await name(page, 'Wheel');
    await undo(page, 'title or notes').waitFor();
    await radius(page).fill('25');
    await undo(page, 'apparatus').waitFor();
    await page.getByLabel('Another object').fill('ring');
    await page.getByRole('button', { name: 'Add object' }).click();
    await undo(page, 'objects').waitFor();
    await openExample(page);
    await undo(page, 'opening another lab').click();
    assert.equal(await title(page).inputValue(), 'Wheel');
    assert.equal(await radius(page).inputValue(), '25');
    await page.getByRole('heading', { name: 'ring', exact: true }).first().waitFor();
    await undo(page, 'objects').click();
    assert.equal(await page.getByRole('heading', { name: 'ring', exact: true }).count(), 0);
    await page.keyboard.press('Control+z');
    assert.equal(await radius(page).inputValue(), '', 'what was typed is gone from the field');
    await page.keyboard.press('Control+z');
    assert.equal(await title(page).inputValue(), '');
    await page.getByRole('button', { name: 'Undo', exact: true }).and(page.locator('[aria-disabled=true]')).waitFor();
    for (let step = 0; step < 3; step += 1) await page.keyboard.press('Control+Shift+z');
    await redo(page, 'opening another lab').click();
    await stationState(page, 'Comparison', '3 of 3 compared').waitFor();
    await page.getByRole('button', { name: 'Redo', exact: true }).waitFor();
  });
});

test('a word typed is one step, and what is typed again ends what could be done again', async () => {
  await during(async (page) => {
    await radius(page).pressSequentially('25.03', { delay: 20 });
    await undo(page, 'apparatus').click();
    assert.equal(await radius(page).inputValue(), '');
    await redo(page, 'apparatus').click();
    assert.equal(await radius(page).inputValue(), '25.03');
    await undo(page, 'apparatus').click();
    await name(page, 'other');
    await page.getByRole('button', { name: 'Redo', exact: true }).waitFor();
  });
});

test('a text is kept while it is being typed', async () => {
  await during(async (page) => {
    const show = () => station(page, 'Report').getByText('Write the report').click();
    const entries = [
      [page.getByLabel('Notes: who, when, what else matters'), 'The string was thin. It slipped twice.'],
      [page.getByLabel('What would you do differently next time, and why?'), 'A thinner string; two more masses.'],
    ];
    for (const [place, text] of entries) {
      if ((await place.count()) === 0) await show();
      await place.pressSequentially(text, { delay: 10 });
      await kept(page);
      // Nothing but the reload: the field was never left.
      await page.reload();
      await notice(page, 'is back as you left it').waitFor();
      if ((await place.count()) === 0) await show();
      assert.equal(await place.inputValue(), text);
    }
  });
});

test('a run that was removed comes back with its readings', async () => {
  await during(async (page) => {
    await openExample(page);
    const { text } = await saveLab(page);
    await station(page, 'Runs').getByRole('button', { name: /^Remove the run / }).first().click();
    await stationState(page, 'Runs', '22 runs').waitFor();
    await undo(page, 'runs').click();
    await stationState(page, 'Runs', '23 runs').waitFor();
    assert.equal((await saveLab(page)).text, text);
  });
});

test('Ctrl+S saves the lab as a file', async () => {
  await during(async (page) => {
    await name(page, 'By one key');
    const [download] = await Promise.all([page.waitForEvent('download'), page.keyboard.press('Control+s')]);
    assert.equal(download.suggestedFilename(), 'by-one-key.json');
  });
});

test('a lab is open in one tab at a time, and moves where it is wanted', async () => {
  const { page, context } = await visit(browser, host);
  await name(page, 'Shared');
  await radius(page).fill('25');
  await kept(page);
  const second = await context.newPage();
  const errors = listenForErrors(second);
  await second.goto(host.url);
  await ready(second);
  await notice(second, 'Your lab “Shared” is open in another tab').waitFor();
  assert.equal(await radius(second).inputValue(), '');
  // Not yet written when the other tab asks for it.
  await radius(page).fill('26');
  await second.getByRole('button', { name: 'Move it to this tab' }).click();
  await notice(second, 'Your lab “Shared” is back').waitFor();
  assert.equal(await radius(second).inputValue(), '26');
  await notice(page, 'This lab was moved to another tab').waitFor();
  await radius(page).fill('27');
  await radius(second).fill('28');
  await kept(second);
  await page.waitForTimeout(1000);
  assert.ok(await page.getByText('not saved yet').isVisible(), 'what is changed in the tab that lost it is not kept');
  await page.getByRole('button', { name: 'Move it back to this tab' }).click();
  await notice(page, 'Your lab “Shared” is back').waitFor();
  assert.equal(await radius(page).inputValue(), '28');
  await notice(second, 'This lab was moved to another tab').waitFor();
  assert.deepEqual(errors, []);
  await context.close();
});

test('two tabs with labs of their own do not disturb each other', async () => {
  const { page, context } = await visit(browser, host);
  await name(page, 'First');
  await kept(page);
  const second = await context.newPage();
  await second.goto(host.url);
  await ready(second);
  await name(second, 'Second');
  await kept(second);
  await radius(page).fill('25');
  await kept(page);
  for (const [tab, words] of [[page, 'First'], [second, 'Second']]) {
    await tab.reload();
    await notice(tab, `Your lab “${words}” is back`).waitFor();
  }
  await context.close();
});

for (const [what, script] of [
  ['the browser’s database throws', "Object.defineProperty(window, 'indexedDB', { get() { throw new DOMException('denied', 'SecurityError'); } });"],
  ['the browser’s database cannot be opened', "IDBFactory.prototype.open = () => { throw new DOMException('denied', 'SecurityError'); };"],
  ['all storage throws', "for (const name of ['indexedDB', 'localStorage', 'sessionStorage', 'caches']) Object.defineProperty(window, name, { get() { throw new DOMException('denied', 'SecurityError'); } });"],
  ['locks and channels are missing', "delete Navigator.prototype.locks; delete window.BroadcastChannel;"],
]) {
  test(`the page works where ${what}`, async () => {
    const context = await browser.newContext({ serviceWorkers: 'block' });
    await context.addInitScript(script);
    const page = await context.newPage();
    const errors = listenForErrors(page);
    await page.goto(host.url);
    await ready(page);
    await openExample(page);
    await undo(page, 'opening another lab').waitFor();
    await radius(page).fill('25.02');
    if (what.startsWith('locks')) {
      await kept(page);
    } else {
      await notice(page, 'This browser keeps nothing for this page').waitFor();
      assert.ok(await page.getByText('not saved yet').isVisible());
      assert.equal(await page.evaluate(() => dispatchEvent(new Event('beforeunload', { cancelable: true }))), false, 'leaving is asked about');
    }
    await undo(page, 'apparatus').click();
    assert.match((await saveLab(page)).text, /whorl-lab/);
    assert.deepEqual(errors, []);
    await context.close();
  });
}

test('where the storage is full it is said, what was kept stays readable, and it goes on when there is room', async () => {
  const { page, context } = await visit(browser, host);
  await name(page, 'Before');
  await kept(page);
  // What a browser does with a write for which there is no room: the transaction comes to nothing.
  await page.evaluate(() => {
    window.full = true;
    const put = IDBObjectStore.prototype.put;
    IDBObjectStore.prototype.put = function putWhereThereIsRoom(...what) {
      const request = put.apply(this, what);
      if (window.full) this.transaction.abort();
      return request;
    };
  });
  await openExample(page);
  await notice(page, 'The browser’s storage is full').waitFor();
  assert.equal(await page.evaluate(() => dispatchEvent(new Event('beforeunload', { cancelable: true }))), true, 'the example has no changes to lose');
  await radius(page).fill('25.02');
  assert.equal(await page.evaluate(() => dispatchEvent(new Event('beforeunload', { cancelable: true }))), false);
  await page.evaluate(() => { window.full = false; });
  await radius(page).fill('25.01');
  await kept(page);
  assert.equal(await notice(page, 'The browser’s storage is full').count(), 0);
  await page.reload();
  await notice(page, 'Your lab “Banding wheel').waitFor();
  assert.equal(await radius(page).inputValue(), '25.01');
  await stationState(page, 'Comparison', '3 of 3 compared').waitFor();
  await context.close();
});

test('a lab that stops the page when it is opened does not do so again and again', async () => {
  const { page, context } = await visit(browser, host);
  await name(page, 'Heavy');
  await kept(page);
  // As if the page had stopped while it opened the lab: the mark of it stands when the page begins again.
  await page.addInitScript(() => {
    if (window !== top || sessionStorage.getItem('stopped-once')) return;
    sessionStorage.setItem('stopped-once', 'yes');
    sessionStorage.setItem('whorl-opening', sessionStorage.getItem('whorl-slot').split(' ')[0]);
  });
  await page.reload();
  await notice(page, 'The lab “Heavy” stopped the page').waitFor();
  assert.equal(await title(page).inputValue(), '');
  const [download] = await Promise.all([page.waitForEvent('download'), page.getByRole('button', { name: 'Save it as a file' }).click()]);
  assert.equal(download.suggestedFilename(), 'heavy.json');
  await page.reload();
  await page.getByRole('button', { name: 'Open it anyway' }).click();
  await notice(page, 'Your lab “Heavy” is back').waitFor();
  await context.close();
});

test('a long run is written once, however often the lab changes', async () => {
  const { page, context } = await visit(browser, host);
  await page.evaluate(() => {
    window.written = 0;
    const put = IDBObjectStore.prototype.put;
    IDBObjectStore.prototype.put = function putAndCount(value, key) {
      if (this.name === 'readings') window.written += 1;
      return put.call(this, value, key);
    };
  });
  await openExample(page);
  for (const number of ['25.01', '25.02', '25.03']) {
    await radius(page).fill(number);
    await kept(page);
  }
  const written = await page.evaluate(() => window.written);
  assert.equal(written, 23, 'one for each run');
  await context.close();
});

for (const [where, size] of Object.entries(SIZES)) {
  for (const colorScheme of ['light', 'dark']) {
    test(`notices, undo and the shelf have no accessibility violation ${where}, ${colorScheme}`, async () => {
      const { page, context } = await visit(browser, host, { ...size, colorScheme });
      await openExample(page);
      await radius(page).fill('25.02');
      await kept(page);
      await page.reload();
      await notice(page, 'is back as you left it').waitFor();
      await page.getByText('Labs kept in this browser', { exact: true }).click();
      await page.getByText('open in this tab').waitFor();
      assert.deepEqual(await violations(page), []);
      assert.deepEqual(await tooWide(page), { beyond: 0, wide: [] });
      await context.close();
    });
  }
}
