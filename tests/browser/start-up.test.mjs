// How soon the page can be used, on a computer a quarter as fast as this one.

import assert from 'node:assert/strict';
import { availableParallelism, loadavg } from 'node:os';
import { after, before, test } from 'node:test';

import { dist, laterFolders, launch } from './browser.mjs';
import { openExample, ready } from './lab-page.mjs';
import { serve } from './serve.mjs';

const VISITS = 7;
/** The most that a first visit may take until the page can be used, in ms at a quarter of the speed. */
const BUDGET = 700;

let browser, host;
before(async () => {
  browser = await launch();
  host = await serve(dist);
});
after(async () => {
  await browser?.close();
  await host?.close();
});

const median = (numbers) => [...numbers].sort((a, b) => a - b)[Math.floor(numbers.length / 2)];

const listed = (numbers) => numbers.map((number) => number.toFixed(0)).join(', ');

/** Slows the page's processor down by a factor. */
async function slowDown(context, page, factor) {
  const session = await context.newCDPSession(page);
  await session.send('Emulation.setCPUThrottlingRate', { rate: factor });
}

/**
 * Notes when all stations and their fields stand on the page, and when that has been painted.
 *
 * The listeners of a button are there when it is: elements are put on the page finished. The page
 * tells by itself: being asked would cost it time of its own.
 */
function noteUsable() {
  const usable = () => document.querySelector('#comparison') && document.querySelector('#apparatus input');
  new MutationObserver((_, observer) => {
    if (!usable()) return;
    observer.disconnect();
    const built = performance.now();
    requestAnimationFrame(() => setTimeout(() => console.info('usable', built, performance.now()), 0));
  }).observe(document, { childList: true, subtree: true });
}

/** One first visit; gives the times from the start of the navigation, in ms. */
async function firstVisit(factor) {
  const context = await browser.newContext();
  await context.addInitScript(noteUsable);
  const page = await context.newPage();
  await slowDown(context, page, factor);
  const told = page.waitForEvent('console', (message) => message.text().startsWith('usable'));
  await page.goto(host.url, { waitUntil: 'commit' });
  const [built, seen] = (await told).text().split(' ').slice(1).map(Number);
  return { built, seen, page, context };
}

async function visits(factor) {
  const all = { built: [], seen: [] };
  for (let visit = 0; visit < VISITS; visit += 1) {
    const { built, seen, context } = await firstVisit(factor);
    all.built.push(built);
    all.seen.push(seen);
    await context.close();
  }
  return all;
}

test(`a first visit can be used within ${BUDGET} ms at a quarter of the speed`, async (t) => {
  const full = await visits(1);
  const quarter = await visits(4);
  for (const [speed, { built, seen }] of [['full speed', full], ['a quarter of it', quarter]]) {
    t.diagnostic(`${speed}: built after ${listed(built)} ms, median ${median(built).toFixed(0)} ms`);
    t.diagnostic(`${speed}: painted after ${listed(seen)} ms, median ${median(seen).toFixed(0)} ms`);
  }
  t.diagnostic(`the computer had ${loadavg()[0].toFixed(1)} processes waiting for its ${availableParallelism()} processors`);
  const usable = median(quarter.seen);
  assert.ok(usable <= BUDGET, `median ${usable.toFixed(0)} ms`);
});

test('once it stands there it reacts', async () => {
  const { page, context } = await firstVisit(4);
  // Clicked in the page itself, at once: nothing is waited for.
  await page.evaluate(() => [...document.querySelectorAll('button')].find((button) => button.textContent === 'Open the example lab').click());
  await page.getByText('23 of 23 fitted').waitFor();
  await context.close();
});

test('nothing that may come later is asked for before it is needed', async () => {
  const own = await serve(dist);
  const context = await browser.newContext();
  const page = await context.newPage();
  await page.goto(own.url);
  await ready(page);
  await page.waitForLoadState('networkidle');
  const later = () => own.asked.filter((path) => laterFolders.some((folder) => path.startsWith(folder)));
  assert.deepEqual(later(), []);
  await openExample(page);
  await page.waitForLoadState('networkidle');
  assert.deepEqual(later(), ['samples/banding-wheel.json']);
  await page.getByText('Show the working').first().click();
  await page.locator('math').first().waitFor();
  await page.waitForLoadState('networkidle');
  assert.deepEqual(later(), ['samples/banding-wheel.json', 'fonts/whorl-math.woff2']);
  await context.close();
  await own.close();
});

test('how long an entry takes until its results are drawn', async (t) => {
  const { page, context } = await firstVisit(4);
  await openExample(page);
  const times = await page.getByLabel('drum radius R', { exact: true }).evaluate(async (field) => {
    const shown = () => document.querySelector('#comparison dl').textContent;
    const taken = [];
    for (let turn = 0; turn < 9; turn += 1) {
      const before = shown();
      const start = performance.now();
      field.value = `26.${turn}`;
      field.dispatchEvent(new Event('input', { bubbles: true }));
      await new Promise((drawn) => requestAnimationFrame(() => setTimeout(drawn, 0)));
      if (shown() === before) throw new Error('the results did not follow within a frame');
      taken.push(performance.now() - start);
    }
    return taken;
  });
  t.diagnostic(`example lab, drum radius, a quarter of the speed: ${listed(times)} ms, median ${median(times).toFixed(0)} ms`);
  const dragged = await drag(page);
  t.diagnostic(`example lab, stretch dragged, a quarter of the speed: ${listed(dragged)} ms, median ${median(dragged).toFixed(0)} ms`);
  assert.equal(times.length, 9);
  await context.close();
});

/** The time from each move of a dragged stretch until it is drawn, in ms. */
function drag(page) {
  return page.getByRole('img', { name: /empty, 15 g/ }).first().evaluate(async (canvas) => {
    const box = canvas.getBoundingClientRect();
    const send = (type, share) =>
      canvas.dispatchEvent(new PointerEvent(type, {
        bubbles: true,
        clientX: box.left + share * box.width,
        clientY: box.top + box.height / 2,
      }));
    const field = document.querySelector('fieldset.stretch input');
    send('pointerdown', 0.5);
    const taken = [];
    for (let turn = 1; turn <= 9; turn += 1) {
      const before = field.value + field.closest('fieldset').querySelectorAll('input')[1].value;
      const start = performance.now();
      send('pointermove', 0.5 + 0.04 * turn);
      await new Promise((drawn) => requestAnimationFrame(() => setTimeout(drawn, 0)));
      const after = field.value + field.closest('fieldset').querySelectorAll('input')[1].value;
      if (after === before) throw new Error('the stretch did not follow');
      taken.push(performance.now() - start);
    }
    send('pointerup', 0.86);
    return taken;
  });
}
