// The page as a user meets it: opening it, filling a field by its label, reading a result.

import { listenForErrors } from './browser.mjs';

export const STATIONS = ['Pre-lab', 'Apparatus', 'Runs', 'Acceleration', 'Inertia line', 'Object alone', 'Comparison', 'Report'];

/** Opens the page in a browser of its own memory and waits until it can be used; what works without a network has
 * tests of its own. */
export async function visit(browser, host, { before = '', ...options } = {}) {
  const context = await browser.newContext({ serviceWorkers: 'block', ...options });
  if (before !== '') await context.addInitScript(before);
  const page = await context.newPage();
  const errors = listenForErrors(page);
  await page.goto(host.url);
  await ready(page);
  return { context, page, errors };
}

/** Run before the page's own scripts: the browser's database cannot be opened. */
export const NOTHING_IS_KEPT = "IDBFactory.prototype.open = () => { throw new DOMException('denied', 'SecurityError'); };";

/** Waits until the page can be used. */
export async function ready(page) {
  await page.getByRole('button', { name: 'Open the example lab' }).waitFor();
  await station(page, 'Report').waitFor();
}

/** A station by its name. */
export function station(page, name) {
  return page.getByRole('region', { name, exact: true });
}

/** The card with this heading. */
export function card(within, heading) {
  const title = within.page().getByRole('heading', { name: heading, exact: true });
  return within.locator('section').filter({ has: title });
}

/** Opens the example lab and waits until its last result stands there. */
export async function openExample(page) {
  await page.getByRole('button', { name: 'Open the example lab' }).click();
  await news(page).filter({ hasText: 'Banding wheel' }).waitFor();
  await stationState(page, 'Comparison', '3 of 3 compared').waitFor();
}

/** Opens files with “Open lab…”: paths, or `{ name, mimeType, buffer }`. */
export async function openLab(page, files) {
  await page.getByLabel('Open lab…').setInputFiles(files);
}

/** Puts files on the tray with “Choose files…”. */
export async function chooseFiles(page, files) {
  await page.getByLabel('Choose files…').setInputFiles(files);
}

/** Drops files on the tray: `{ name, text }`, or `{ name, buffer }` where the encoding matters. */
export async function dropFiles(page, files) {
  const place = tray(page);
  const sent = files.map(({ name, text, buffer }) => ({ name, bytes: (buffer ?? Buffer.from(text)).toString('base64') }));
  const transfer = await page.evaluateHandle((list) => {
    const data = new DataTransfer();
    for (const { name, bytes } of list) {
      data.items.add(new File([Uint8Array.from(atob(bytes), (c) => c.charCodeAt(0))], name, { type: 'text/csv' }));
    }
    return data;
  }, sent);
  await place.dispatchEvent('dragover', { dataTransfer: transfer });
  await place.dispatchEvent('drop', { dataTransfer: transfer });
}

/** The place where files arrive. */
export function tray(page) {
  return page.getByRole('group', { name: 'Add runs from files' });
}

/** What the last action on the tray came to. */
export function trayStatus(page) {
  return page.locator('#tray-status');
}

/** Waits until so many files that were put on the tray together are read. */
export async function trayRead(page, files) {
  await trayStatus(page).filter({ hasText: `${files} file${files === 1 ? '' : 's'} read:` }).waitFor();
}

/** What is wrong with files on the tray. */
export function refusals(page) {
  return tray(page).locator('.refused');
}

/** The row of a run on the tray, by its name. */
export function trayRow(page, name) {
  const take = page.getByRole('checkbox', { name: `take ${name}`, exact: true });
  return tray(page).locator('table.proposed > tbody > tr').filter({ has: take });
}

/** Adds the runs that are ready: as many as there should be. */
export async function addFromTray(page, runs) {
  const words = `${runs} run${runs === 1 ? '' : 's'}`;
  await tray(page).getByRole('button', { name: `Add ${words} to the lab`, exact: true }).click();
  await trayStatus(page).filter({ hasText: `${words} added.` }).waitFor();
}

/** Puts files with one run each on the tray and adds them all. */
export async function addRuns(page, files) {
  const count = Array.isArray(files) ? files.length : 1;
  await chooseFiles(page, files);
  await trayRead(page, count);
  await addFromTray(page, count);
}

/** Saves the lab; gives the file's name and text. */
export async function saveLab(page) {
  const [download] = await Promise.all([
    page.waitForEvent('download'),
    page.getByRole('button', { name: 'Save lab', exact: true }).click(),
  ]);
  return { name: download.suggestedFilename(), text: await textOf(download) };
}

/** Waits until the browser keeps the lab as it stands: then leaving the page asks no question. */
export async function kept(page) {
  await page.getByText('kept in this browser, not saved as a file yet').waitFor();
  await page.waitForFunction(() => dispatchEvent(new Event('beforeunload', { cancelable: true })));
}

/** The text of a downloaded file. */
export async function textOf(download) {
  const chunks = [];
  for await (const chunk of await download.createReadStream()) chunks.push(chunk);
  return Buffer.concat(chunks).toString('utf8');
}

/** What the last file action came to, when it worked. */
export function news(page) {
  return page.getByRole('banner').getByRole('status');
}

/** What the last file action came to, when it did not. */
export function problem(page) {
  return page.getByRole('banner').getByRole('alert');
}

/** The entry of a station in the path at the top. */
export function stationState(page, name, words) {
  const path = page.getByRole('navigation', { name: 'Stations of the lab' });
  return path.getByRole('link', { name: `${name} ${words}`, exact: true });
}

/** Fills a measured quantity: its value, and its u when given. */
export async function measure(within, words, symbol, value, u) {
  await within.getByLabel(`${words} ${symbol}`, { exact: true }).fill(value);
  if (u !== undefined) await within.getByLabel(`standard uncertainty u(${symbol}) of the ${words}`).fill(u);
}

/** The text of a named row of results. */
export async function result(within, name) {
  // While somebody types, stations out of view are not laid out, and have no text.
  await within.page().locator('main:not(.typing)').waitFor();
  const row = within.locator('dl.outcomes > div').filter({ has: within.page().locator('dt', { hasText: name }) });
  return (await row.locator('dd').innerText()).trim();
}

const RAISED = '⁰¹²³⁴⁵⁶⁷⁸⁹';

/** “7.043 × 10⁻³ kg·m²” in SI units; the first number of the text and the first unit behind it. */
export function si(text) {
  const plain = text.replace(/[\u202f\u00a0]/g, ' ').replaceAll('−', '-');
  const number = Number(/-?\d+(\.\d+)?/.exec(plain)?.[0] ?? NaN);
  return number * scale(plain);
}

function scale(plain) {
  const raised = /10(⁻?)([⁰¹²³⁴⁵⁶⁷⁸⁹]+)/.exec(plain);
  if (raised) {
    const digits = Number([...raised[2]].map((digit) => RAISED.indexOf(digit)).join(''));
    return 10 ** (raised[1] ? -digits : digits);
  }
  return /[\d)] m(m|N|s)\b/.test(plain) ? 1e-3 : 1;
}

/** “(7.001 to 7.085) × 10⁻³ kg·m²” as both ends in SI units. */
export function interval(text) {
  const plain = text.replace(/[\u202f\u00a0]/g, ' ').replaceAll('−', '-');
  const ends = /(-?\d+(?:\.\d+)?) to (-?\d+(?:\.\d+)?)/.exec(plain);
  if (!ends) throw new Error(`no interval in “${text}”`);
  const unit = scale(plain.slice(ends.index));
  return { low: Number(ends[1]) * unit, high: Number(ends[2]) * unit };
}

/** How much of a canvas differs from its most common color, and how many colors it has. */
export function painted(canvas) {
  return canvas.evaluate((element) => {
    const { width, height } = element;
    const pixels = new Uint32Array(element.getContext('2d').getImageData(0, 0, width, height).data.buffer);
    const counts = new Map();
    for (const pixel of pixels) counts.set(pixel, (counts.get(pixel) ?? 0) + 1);
    return { share: 1 - Math.max(...counts.values()) / pixels.length, colors: counts.size };
  });
}

/** Opens every disclosure, also those that appear inside others; of a chain of workings its first link. */
export async function openAllDetails(page) {
  let opened = 0;
  do {
    opened = await page.evaluate(() => {
      const closed = [...document.querySelectorAll('details:not([open], .link)')];
      for (const details of closed) details.open = true;
      return closed.length;
    });
    await page.evaluate(() => new Promise((drawn) => requestAnimationFrame(() => setTimeout(drawn, 0))));
    // What is in a part that is loaded later.
    await page.waitForFunction(() => !document.querySelector('.loading'));
  } while (opened > 0);
}

/** Everything the stations show: their text, and what stands in their fields. */
export async function everythingShown(page) {
  // Findings are looked for where they are seen, and stand there once nothing has changed for 0.4 s.
  const findings = page.locator('section.findings');
  // The stations are built one after the other.
  await page.locator('#comparison').waitFor();
  if (await findings.isVisible()) {
    await findings.scrollIntoViewIfNeeded();
    await findings.locator('.finding, .hint:not(.loading)').first().waitFor();
  }
  await page.waitForTimeout(1000);
  await openAllDetails(page);
  return page.evaluate(() => {
    const main = document.querySelector('main');
    const value = (field) => (field.type === 'file' ? '' : field.selectedOptions?.[0]?.textContent ?? field.value);
    const fields = [...document.querySelectorAll('input, select, textarea')].map(value);
    // Ids are numbered through; what is shown is not.
    return { text: main.innerText, fields };
  });
}
