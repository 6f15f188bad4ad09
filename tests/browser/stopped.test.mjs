// The program stops: a plain panel says so, and the lab is not lost.
//
// The program is stopped by a browser that all at once makes no more elements; what has to be built
// next is then a panic.

import assert from 'node:assert/strict';
import { test } from 'node:test';

import { everythingShown, openExample, ready, saveLab, station, stationState, textOf, visit } from './lab-page.mjs';
import { browser, host } from './session.mjs';

/** The rescue copy is renewed once typing has rested for 0.4 s. */
const RESTED = 1000;

/** Opens the example, changes it, and gives the lab as it would be saved. */
async function changedExample(page) {
  await openExample(page);
  await page.getByLabel('drum radius R', { exact: true }).fill('25.02');
  const { text } = await saveLab(page);
  await page.waitForTimeout(RESTED);
  // A saved lab ends with the fingerprint of its readings, which takes too long for a copy at every change.
  const fingerprint = /,"readings_sha256":"[0-9a-f]{64}"\}$/;
  assert.match(text, fingerprint);
  return text.replace(fingerprint, '}');
}

/** Stops the program. */
async function stop(page) {
  await page.evaluate(() => {
    Document.prototype.createElement = () => {
      throw new TypeError('no more elements');
    };
  });
  await page.getByRole('button', { name: 'Next run' }).click();
}

const panel = (page) => page.getByRole('alertdialog', { name: 'Whorl has stopped' });

const rescueLink = (page) => panel(page).getByRole('link', { name: 'Download a rescue copy of your lab' });

const back = (page) => page.getByRole('status').filter({ hasText: 'is back as you left it' });

async function download(page, link) {
  const [file] = await Promise.all([page.waitForEvent('download'), link.click()]);
  return { name: file.suggestedFilename(), text: await textOf(file) };
}

/** After the program has stopped nothing can ask about unsaved work, or should. */
async function reload(page) {
  page.on('dialog', (dialog) => dialog.accept());
  await panel(page).getByRole('link', { name: 'Reload the page' }).click();
  await ready(page);
}

test('the panel shows, can be used by keyboard, and gives the lab as it was', async () => {
  const { page, context } = await visit(browser, host);
  const lab = await changedExample(page);
  assert.equal(await panel(page).isVisible(), false);
  await stop(page);
  await panel(page).waitFor();
  assert.match(await panel(page).innerText(), /Nothing more will update until you reload/);

  // It covers what no longer works.
  const box = await panel(page).boundingBox();
  const size = page.viewportSize();
  assert.ok(box.width >= size.width - 20 && box.height >= size.height - 1, JSON.stringify(box));

  for (const link of [rescueLink(page), panel(page).getByRole('link', { name: 'Reload the page' })]) {
    await link.focus();
    assert.ok(await link.evaluate((element) => element === document.activeElement));
  }
  const rescued = await download(page, rescueLink(page));
  assert.equal(rescued.text, lab);
  assert.match(rescued.name, /\.json$/);
  await context.close();
});

test('the panel is where the keyboard is', async () => {
  const { page, context } = await visit(browser, host);
  await changedExample(page);
  await stop(page);
  await panel(page).waitFor();
  await page.keyboard.press('Tab');
  const inside = () => page.evaluate(() => document.getElementById('stopped').contains(document.activeElement));
  assert.ok(await inside(), 'one Tab leads into the panel');
  // Past the last link the focus may leave the page (then its body has it), but never go behind the panel.
  const behind = () => page.evaluate(() => {
    const active = document.activeElement;
    return active !== document.body && !document.getElementById('stopped').contains(active);
  });
  for (let turn = 0; turn < 6; turn += 1) {
    await page.keyboard.press('Tab');
    assert.equal(await behind(), false, 'Tab does not lead behind the panel');
  }
  await context.close();
});

test('after a reload the lab is back as it was', async () => {
  const { page, context } = await visit(browser, host);
  await changedExample(page);
  const before = await everythingShown(page);
  await stop(page);
  await panel(page).waitFor();
  await reload(page);
  await back(page).waitFor();
  assert.deepEqual(await everythingShown(page), before);
  await context.close();
});

test('a page that stops with nothing entered brings none back', async () => {
  const { page, context } = await visit(browser, host);
  await page.waitForTimeout(RESTED);
  await page.evaluate(() => {
    Document.prototype.createElement = () => {
      throw new TypeError('no more elements');
    };
  });
  await page.getByLabel('Another object').fill('ring');
  await page.getByRole('button', { name: 'Add object' }).click();
  await panel(page).waitFor();
  assert.equal(await rescueLink(page).isVisible(), false);
  await reload(page);
  // It would come with a part of the program.
  await page.waitForLoadState('networkidle');
  await page.waitForTimeout(RESTED);
  assert.equal(await back(page).isVisible(), false);
  await context.close();
});

/** Takes a storage from the page. */
const without = (name) => `Object.defineProperty(window, '${name}', { get() { throw new DOMException('denied', 'SecurityError'); } });`;

for (const [what, breakStorage] of [
  ['that throws', ['localStorage', 'sessionStorage', 'indexedDB'].map(without).join('')],
  ['that is none', "for (const name of ['localStorage', 'sessionStorage', 'indexedDB']) Object.defineProperty(window, name, { get: () => null });"],
  ['that is full', "Storage.prototype.setItem = IDBObjectStore.prototype.put = () => { throw new DOMException('full', 'QuotaExceededError'); };"],
]) {
  test(`with a storage ${what} the page works, and the panel still gives the lab`, async () => {
    const context = await browser.newContext({ serviceWorkers: 'block' });
    await context.addInitScript(breakStorage);
    const page = await context.newPage();
    await page.goto(host.url);
    await ready(page);
    assert.ok(await station(page, 'Apparatus').isVisible());
    const lab = await changedExample(page);
    await stop(page);
    await panel(page).waitFor();
    assert.equal((await download(page, rescueLink(page))).text, lab);
    await reload(page);
    assert.equal(await back(page).isVisible(), false);
    await context.close();
  });
}
