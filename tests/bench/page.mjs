// How quick the page is on a slow computer: start, typing, charts. Each figure is a median of several rounds, at the
// processor's own speed and slowed 4 and 6 times as Chromium slows it. `cargo xtask bench page`

import { readdir } from 'node:fs/promises';
import { fileURLToPath } from 'node:url';

import { dist, launch } from '../browser/browser.mjs';
import { chooseFiles, openExample, openLab, station, stationState, trayRead, addFromTray, visit } from '../browser/lab-page.mjs';
import { serve } from '../browser/serve.mjs';

const ROUNDS = 5;
const RATES = [1, 4, 6];
const TWELVE = new URL('../labs/twelve/', import.meta.url);
const runs = await readdir(new URL('runs/', TWELVE));
const LAB = ['lab.json', ...runs.map((run) => `runs/${run}`)].map((name) => fileURLToPath(new URL(name, TWELVE)));

const median = (list) => [...list].sort((a, b) => a - b)[Math.floor(list.length / 2)];
const most = (list) => Math.max(0, ...list);
const ms = (value) => `${Math.round(value)} ms`;

async function slowed(page, rate) {
  const session = await page.context().newCDPSession(page);
  await session.send('Emulation.setCPUThrottlingRate', { rate });
}

/** From the address to a page that can be used: the first look at it painted, its buttons and the cautions. */
async function start(browser, host, rate) {
  const context = await browser.newContext();
  const page = await context.newPage();
  await slowed(page, rate);
  await page.addInitScript(() => {
    const look = () => {
      if (document.querySelector('main .safety')) {
        // Behind the callbacks of a frame the browser paints it: this comes after.
        setTimeout(() => { globalThis.usable = performance.now(); }, 0);
      } else requestAnimationFrame(look);
    };
    requestAnimationFrame(look);
  });
  // Not asked before: the question itself takes a slow page long to answer.
  await page.goto(host.url, { waitUntil: 'commit' });
  await new Promise((passed) => setTimeout(passed, 1000 + 700 * rate));
  const usable = await page.evaluate(() => globalThis.usable);
  await context.close();
  return usable;
}

/** A key in a field of the apparatus: until every result and chart has followed and is painted; and the longest task
 * while a number is typed, findings included. */
async function typing(browser, host, rate) {
  const { page, context } = await visit(browser, host, { viewport: { width: 1366, height: 768 } });
  await openLab(page, LAB);
  await stationState(page, 'Acceleration', '12 of 12 fitted').waitFor();
  await page.waitForTimeout(1000);
  await slowed(page, rate);
  const field = station(page, 'Apparatus').getByLabel('drum radius R', { exact: true });
  const id = await field.getAttribute('id');
  await field.focus();
  const after = (gap) => page.evaluate(async ([id, gap]) => {
    const input = document.getElementById(id);
    const result = () => document.querySelector('#line .result .value').textContent;
    const painted = () => new Promise((done) => requestAnimationFrame(() => setTimeout(done, 0)));
    const times = [];
    for (const text of ['25.1', '25.2', '25.3', '25.1', '25.2', '25.3', '25']) {
      await new Promise((done) => setTimeout(done, gap));
      const before = result();
      await painted();
      const began = performance.now();
      input.value = text;
      input.dispatchEvent(new Event('input', { bubbles: true }));
      await painted();
      while (result() === before) await painted();
      times.push(performance.now() - began);
    }
    return times;
  }, [id, gap]);
  // The first after a rest, and keys as quick as people type.
  const [rested, followed] = [await after(600), await after(200)];
  await page.evaluate(() => {
    globalThis.tasks = [];
    new PerformanceObserver((list) => globalThis.tasks.push(...list.getEntries().map((task) => task.duration))).observe({ entryTypes: ['longtask'] });
  });
  await field.fill('');
  await field.pressSequentially('25.025', { delay: 150 });
  await page.waitForTimeout(1500);
  const tasks = await page.evaluate(() => globalThis.tasks);
  await context.close();
  return { rested: median(rested), followed: median(followed), longest: most(tasks) };
}

/** A run of 20,000 readings, moved step by step: how long a frame takes. */
async function frames(browser, host, rate) {
  const { page, context } = await visit(browser, host, { viewport: { width: 1366, height: 768 } });
  let rows = 'time (s),velocity (m/s)\n';
  for (let k = 0; k < 20000; k += 1) {
    const wobble = Math.sin(k * 12.9898) * 43758.5453;
    rows += `${(k / 5000).toFixed(4)},${(0.1 + (0.3 * k) / 5000 + 0.004 * (wobble - Math.floor(wobble) - 0.5)).toFixed(6)}\n`;
  }
  await chooseFiles(page, { name: 'empty-50g.csv', mimeType: 'text/csv', buffer: Buffer.from(rows) });
  await trayRead(page, 1);
  await addFromTray(page, 1);
  const chart = station(page, 'Acceleration').locator('.chart .frame').first();
  await chart.waitFor();
  await page.waitForTimeout(500);
  await slowed(page, rate);
  await chart.focus();
  const took = await chart.evaluate(async (frame) => {
    const press = (key, shiftKey = false) => frame.dispatchEvent(new KeyboardEvent('keydown', { key, shiftKey, bubbles: true }));
    const next = () => new Promise((done) => requestAnimationFrame(done));
    press('+');
    for (let k = 0; k < 5; k += 1) await next();
    const times = [];
    let last = await next();
    for (let k = 0; k < 120; k += 1) {
      press(k % 10 < 5 ? 'ArrowRight' : 'ArrowLeft', true);
      const now = await next();
      times.push(now - last);
      last = now;
    }
    return times.sort((a, b) => a - b);
  });
  await context.close();
  return { median: median(took), slow: took[Math.floor(0.95 * took.length)] };
}

/** A run opened to be watched, slowed. */
async function toWatch(browser, host, rate, fill) {
  const { page, context } = await visit(browser, host, { viewport: { width: 1366, height: 768 } });
  await fill(page);
  const acceleration = station(page, 'Acceleration');
  await acceleration.getByText('Watch this run').click();
  const drawing = acceleration.locator('.drawing');
  await drawing.waitFor();
  await drawing.scrollIntoViewIfNeeded();
  await page.waitForTimeout(500);
  await slowed(page, rate);
  return { page, context, acceleration };
}

/** Frames of the page's program for so many seconds, ms each, in order of length. */
const programFrames = (page, seconds) => page.evaluate(async (seconds) => {
  const next = () => new Promise((done) => requestAnimationFrame(done));
  for (let k = 0; k < 10; k += 1) await next();
  const times = [];
  let last = await next();
  const until = last + 1000 * seconds;
  while (last < until) {
    const now = await next();
    times.push(now - last);
    last = now;
  }
  return times.sort((a, b) => a - b);
}, seconds);

/** Frames that came onto the screen, per second, and how many were dropped on the way. */
async function shownFrames(browser, page, seconds) {
  const session = await browser.newBrowserCDPSession();
  const events = [];
  session.on('Tracing.dataCollected', ({ value }) => events.push(...value));
  await session.send('Tracing.start', { categories: '-*,viz,cc,benchmark', transferMode: 'ReportEvents' });
  await page.waitForTimeout(1000 * seconds);
  const complete = new Promise((done) => session.once('Tracing.tracingComplete', done));
  await session.send('Tracing.end');
  await complete;
  await session.detach();
  const shown = events.filter((event) => event.name === 'Display::FrameDisplayed').map((event) => event.ts).sort((a, b) => a - b);
  const states = events.map((event) => event.args?.chrome_frame_reporter?.state).filter((state) => state === 'STATE_DROPPED');
  return { perSecond: (shown.length - 1) / ((shown.at(-1) - shown[0]) * 1e-6), dropped: states.length };
}

/** A run that is watched: how long a frame of the program takes while it plays, and how many are shown. */
async function watched(browser, host, rate) {
  const { page, context, acceleration } = await toWatch(browser, host, rate, openExample);
  await acceleration.getByLabel('Begin again at the end').check();
  await acceleration.getByRole('button', { name: 'Play' }).click();
  const took = await programFrames(page, 4);
  const shown = await shownFrames(browser, page, 4);
  await context.close();
  return { median: median(took), slow: took[Math.floor(0.95 * took.length)], ...shown };
}

/** A record that grows by 1,000 gate events a second for ten minutes: 20,000 are the most that a record may hold, so it
 * begins again every 20 s. A line for each minute. */
async function growing(browser, host, rate) {
  const { page, context, acceleration } = await toWatch(browser, host, rate, async (page) => {
    let rows = 'time (s)\n';
    // The k-th edge where k = 900 t + 5 t²: from 900 to 1,100 a second.
    for (let k = 0; k < 20000; k += 1) rows += `${((Math.sqrt(900 ** 2 + 20 * k) - 900) / 10).toFixed(7)}\n`;
    await chooseFiles(page, { name: 'empty-50g.csv', mimeType: 'text/csv', buffer: Buffer.from(rows) });
    await trayRead(page, 1);
    await addFromTray(page, 1);
    await station(page, 'Apparatus').getByLabel('travel per spoke s', { exact: true }).fill('15 mm');
  });
  const session = await page.context().newCDPSession(page);
  await session.send('Performance.enable');
  await acceleration.getByLabel('Begin again at the end').check();
  await acceleration.getByRole('button', { name: 'Play' }).click();
  for (let minute = 1; minute <= 10; minute += 1) {
    const took = await programFrames(page, 52);
    const { perSecond, dropped } = await shownFrames(browser, page, 5);
    await session.send('HeapProfiler.collectGarbage');
    const { metrics } = await session.send('Performance.getMetrics');
    const metric = (name) => metrics.find((one) => one.name === name).value;
    const wasm = await page.evaluate(async () => {
      const program = [...document.querySelectorAll('link')].map((link) => link.href).find((href) => /whorl-app[^/]*\.js$/.test(href));
      return (await import(program)).initSync().memory.buffer.byteLength;
    });
    console.log(`  ${minute} min: ${perSecond.toFixed(1)} frames shown per second, ${dropped} dropped in 5 s; a frame of the program ${median(took).toFixed(1)} ms; JavaScript holds ${(metric('JSHeapUsedSize') / 1e6).toFixed(2)} MB, ${metric('Nodes')} nodes, ${metric('JSEventListeners')} listeners, the program ${(wasm / 1e6).toFixed(2)} MB`);
  }
  await context.close();
}

const browser = await launch();
const host = await serve(dist);
const asked = process.argv[2] ?? '';
const wanted = (name) => asked === '' || asked === name;
for (const rate of RATES) {
  const line = [`${rate}×`];
  if (wanted('start')) {
    const starts = [];
    for (let round = 0; round < ROUNDS; round += 1) starts.push(await start(browser, host, rate));
    line.push(`usable ${ms(median(starts))} (${ms(Math.min(...starts))} to ${ms(most(starts))})`);
  }
  if (wanted('typing')) {
    const { rested, followed, longest } = await typing(browser, host, rate);
    line.push(`a key to all results and charts of 12 runs ${ms(followed)}, the first after a rest ${ms(rested)}`, `longest task while typing ${longest > 0 ? ms(longest) : 'below 50 ms'}`);
  }
  if (wanted('frames')) {
    const { median: usual, slow } = await frames(browser, host, rate);
    line.push(`a frame at 20,000 readings ${usual.toFixed(1)} ms (95 % within ${slow.toFixed(1)} ms)`);
  }
  if (wanted('replay')) {
    const { median: usual, slow, perSecond, dropped } = await watched(browser, host, rate);
    line.push(`a run that is watched: ${perSecond.toFixed(1)} frames shown per second, ${dropped} dropped in 4 s; a frame of the program ${usual.toFixed(1)} ms (95 % within ${slow.toFixed(1)} ms)`);
  }
  if (line.length > 1) console.log(line.join('; '));
}
// Ten minutes: only when it is asked for.
if (asked === 'growing') await growing(browser, host, 4);
await browser.close();
await host.close();
