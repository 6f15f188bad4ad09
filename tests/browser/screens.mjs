// Pictures of every station, for looking at: node screens.mjs, with the environment of the tests.

import { mkdir, readdir, rm } from 'node:fs/promises';
import { fileURLToPath } from 'node:url';

import { dist, launch } from './browser.mjs';
import { wear } from './inspection.mjs';
import { chooseFiles, openAllDetails, openExample, ready, STATIONS, station, tray, trayRead, visit } from './lab-page.mjs';
import { serve } from './serve.mjs';

const folder = new URL('./screens/', import.meta.url);

const runs = new URL('../labs/twelve/runs/', import.meta.url);
const wrong = new URL('../labs/wrong/', import.meta.url);
const dropped = [
  ...(await readdir(runs)).slice(0, 8).map((file) => new URL(file, runs)),
  ...['empty.csv', 'no-headings.csv', 'word-in-a-number-column.csv'].map((file) => new URL(file, wrong)),
].map(fileURLToPath);

const SIZES = {
  wide: { viewport: { width: 1366, height: 768 } },
  phone: { viewport: { width: 360, height: 740 }, deviceScaleFactor: 2, hasTouch: true, isMobile: true },
  zoomed: { viewport: { width: 683, height: 384 }, deviceScaleFactor: 2 },
};

// A picture of a whole station is taller than the window: the path would lie across it.
const STILL = '.path { position: static !important; }';

/** Passes over the whole page: charts are drawn once they come into view. */
async function passOver(page) {
  await page.evaluate(async () => {
    for (let at = 0; at < document.documentElement.scrollHeight; at += innerHeight) {
      window.scrollTo(0, at);
      await new Promise((drawn) => requestAnimationFrame(() => setTimeout(drawn, 30)));
    }
  });
}

async function shoot(page, name) {
  await passOver(page);
  const path = (what) => fileURLToPath(new URL(`${name}-${what}.png`, folder));
  await page.evaluate(() => window.scrollTo(0, 0));
  await page.screenshot({ path: path('0-top') });
  for (const [index, one] of STATIONS.entries()) {
    // What was not begun is not printed.
    if (!(await station(page, one).isVisible())) continue;
    await station(page, one).screenshot({ path: path(`${index + 1}-${one.toLowerCase().replace(' ', '-')}`) });
  }
}

await rm(folder, { recursive: true, force: true });
await mkdir(folder, { recursive: true });
const browser = await launch();
const host = await serve(dist);
for (const [size, options] of Object.entries(SIZES)) {
  for (const mode of ['light', 'dark', 'print']) {
    const colorScheme = mode === 'dark' ? 'dark' : 'light';
    const { page, context } = await visit(browser, host, { ...options, colorScheme });
    await wear(page, STILL);
    const name = `${size}-${mode}`;
    if (mode === 'print') {
      await openExample(page);
      await page.waitForTimeout(1000);
      await page.emulateMedia({ media: 'print', colorScheme: 'dark' });
      await shoot(page, name);
      await context.close();
      continue;
    }
    await shoot(page, `${name}-empty`);
    await chooseFiles(page, dropped);
    await trayRead(page, dropped.length);
    await tray(page).screenshot({ path: fileURLToPath(new URL(`${name}-tray.png`, folder)) });
    await openAllDetails(page);
    await tray(page).screenshot({ path: fileURLToPath(new URL(`${name}-tray-opened.png`, folder)) });
    await page.reload();
    await ready(page);
    await wear(page, STILL);
    await openExample(page);
    await shoot(page, `${name}-example`);
    await openAllDetails(page);
    await shoot(page, `${name}-opened`);
    await context.close();
  }
}
await browser.close();
await host.close();
