// After a first visit the page works without a network; a new version waits until it is asked for.

import assert from 'node:assert/strict';
import { cp, mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { test } from 'node:test';

import { dist, listenForErrors } from './browser.mjs';
import { gateTimes } from './class-files.mjs';
import { addRuns, everythingShown, kept, openExample, ready, saveLab, station, stationState } from './lab-page.mjs';
import { serve } from './serve.mjs';
import { browser, host } from './session.mjs';

/** Opens the page with its keeper of files, and waits until that has them all. */
async function firstVisit(address) {
  const context = await browser.newContext();
  const page = await context.newPage();
  const errors = listenForErrors(page);
  await page.goto(address);
  await ready(page);
  await page.evaluate(async () => {
    const registration = await navigator.serviceWorker.ready;
    if (registration.active.state !== 'activated') {
      await new Promise((active) => registration.active.addEventListener('statechange', active, { once: true }));
    }
  });
  return { context, page, errors };
}

test('everything works without a network after the first visit', async () => {
  const { context, page, errors } = await firstVisit(host.url);
  await context.setOffline(true);
  await page.reload();
  await ready(page);
  await openExample(page);

  // Every part of the program, the second thread, the words of another language, and our recorded labs.
  await everythingShown(page);
  await addRuns(page, gateTimes());
  await stationState(page, 'Runs', '24 runs').waitFor();
  await station(page, 'Acceleration').getByRole('slider').first().waitFor();
  await page.getByText('Recorded labs', { exact: true }).click();
  await page.getByRole('banner').getByRole('list').first().waitFor();
  await page.getByLabel('Language').selectOption('es');
  await page.getByRole('heading', { name: 'Comparación', exact: true }).waitFor();
  assert.deepEqual(errors.filter((error) => !/ERR_INTERNET_DISCONNECTED/.test(error)), []);

  // The lab is kept, and comes back, without a network too.
  await page.reload();
  await page.getByRole('status').filter({ hasText: 'está de vuelta' }).waitFor();
  await context.close();
});

test('no request leaves for anywhere but the page’s own host, and none of the keeper’s goes astray', async () => {
  const { context, page } = await firstVisit(host.url);
  const files = await page.evaluate(async () => {
    const names = await caches.keys();
    const cache = await caches.open(names[0]);
    return (await cache.keys()).map((request) => request.url);
  });
  assert.ok(files.length > 20 && files.every((file) => file.startsWith(host.url)), files.join('\n'));
  await context.close();
});

test('a new version is offered, never forced, and takes the lab along', async () => {
  const folder = await mkdtemp(join(tmpdir(), 'whorl-version-'));
  await cp(dist, folder, { recursive: true });
  const changing = await serve(folder);
  const { context, page } = await firstVisit(changing.url);
  await page.reload();
  await ready(page);
  await page.getByLabel('drum radius R', { exact: true }).fill('25.02');
  await kept(page);

  const start = await readFile(join(folder, 'index.html'), 'utf8');
  await writeFile(join(folder, 'index.html'), start.replace('<title>', '<title>New: '));
  const keeper = await readFile(join(folder, 'offline.js'), 'utf8');
  await writeFile(join(folder, 'offline.js'), keeper.replace(/"[0-9a-f]{16}"/, '"0123456789abcdef"'));

  // The next visit still has the old one, whole, and hears of the new one.
  await page.reload();
  await ready(page);
  assert.match(await page.title(), /^Whorl/);
  await page.getByRole('status').filter({ hasText: 'A new version of Whorl is ready.' }).waitFor();
  await page.getByLabel('drum radius R', { exact: true }).fill('25.04');
  await page.getByRole('button', { name: 'Use the new version' }).click();
  await page.waitForFunction(() => document.title.startsWith('New: '));
  await ready(page);
  await page.getByRole('status').filter({ hasText: 'is back as you left it' }).waitFor();
  assert.equal(await page.getByLabel('drum radius R', { exact: true }).inputValue(), '25.04');
  await context.close();
  await changing.close();
  await rm(folder, { recursive: true });
});

test('an older tab finds its own parts while another uses the new version', async () => {
  const folder = await mkdtemp(join(tmpdir(), 'whorl-version-'));
  await cp(dist, folder, { recursive: true });
  const changing = await serve(folder);
  const { context, page: older } = await firstVisit(changing.url);
  const keeper = await readFile(join(folder, 'offline.js'), 'utf8');
  await writeFile(join(folder, 'offline.js'), keeper.replace(/"[0-9a-f]{16}"/, '"0123456789abcdef"'));
  const newer = await context.newPage();
  await newer.goto(changing.url);
  await ready(newer);
  await newer.getByRole('button', { name: 'Use the new version' }).click();
  await newer.waitForTimeout(1000);
  await changing.close();
  await openExample(older);
  await station(older, 'Comparison').scrollIntoViewIfNeeded();
  assert.match((await saveLab(older)).text, /whorl-lab/);
  await context.close();
  await rm(folder, { recursive: true });
});

test('the page says of itself that it can be installed', async () => {
  const manifest = JSON.parse(await readFile(join(dist, 'app.webmanifest'), 'utf8'));
  assert.equal(manifest.start_url, './');
  for (const icon of manifest.icons) await readFile(join(dist, icon.src));
  const { context, page } = await firstVisit(host.url);
  const devtools = await context.newCDPSession(page);
  const { installabilityErrors } = await devtools.send('Page.getInstallabilityErrors');
  // A browser of a test keeps nothing for good, so it installs nothing.
  assert.deepEqual(installabilityErrors.map(({ errorId }) => errorId).filter((id) => id !== 'in-incognito'), []);
  await context.close();
});
