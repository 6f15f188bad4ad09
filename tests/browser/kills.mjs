// The browser is killed at random moments while somebody edits: how much is lost, and does what is kept open again?
//
// As a program (`node kills.mjs 200`, with the settings of the browser tests) it prints what it saw.

import { spawn } from 'node:child_process';
import { mkdtemp, readFile, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

import { chromium } from 'playwright-core';

import { dist, switches } from './browser.mjs';
import { ready } from './lab-page.mjs';
import { serve } from './serve.mjs';

const pause = (ms) => new Promise((over) => setTimeout(over, ms));

/** What a promise gives, or a rejection where it takes longer than this many milliseconds. */
async function within(ms, promise) {
  let timer;
  const late = new Promise((_, over) => { timer = setTimeout(() => over(new Error(`nothing for ${ms} ms`)), ms); });
  return Promise.race([promise, late]).finally(() => clearTimeout(timer));
}

/** A browser with a memory on disk, as a program of its own that can be killed; and a page of it. */
async function start(profile, tries = 3) {
  await rm(join(profile, 'DevToolsActivePort'), { force: true });
  const program = spawn(process.env.WHORL_CHROMIUM, [
    ...switches(), '--headless=new', '--remote-debugging-port=0', `--user-data-dir=${profile}`, 'about:blank',
  ], { detached: true, stdio: 'ignore' });
  let port;
  for (let turn = 0; port === undefined && turn < 300; turn += 1) {
    await pause(50);
    port = await readFile(join(profile, 'DevToolsActivePort'), 'utf8').then((text) => text.split('\n')[0], () => undefined);
  }
  let browser;
  const kill = async () => {
    const ended = new Promise((over) => program.once('exit', over));
    process.kill(-program.pid, 'SIGKILL');
    await ended;
    await browser?.close().catch(() => {});
  };
  try {
    browser = await chromium.connectOverCDP(`http://127.0.0.1:${port}`, { timeout: 20_000 });
    return { page: await within(20_000, browser.contexts()[0].newPage()), kill };
  } catch (error) {
    // A browser that has just started sometimes does not answer; it has not seen the page yet.
    await kill();
    if (tries === 1) throw error;
    return start(profile, tries - 1);
  }
}

/** A random number that is the same for the same seed (Park and Miller's generator, CACM 31, 1988, 1192). */
function randomFrom(seed) {
  let state = seed;
  return () => {
    state = (state * 48271) % 2147483647;
    return state / 2147483647;
  };
}

/** What stands in the page: the number of the last edit that came back. */
async function lastEdit(page) {
  return Number(/\d+/.exec(await page.getByLabel('Title of this lab').inputValue())?.[0] ?? 0);
}

/** Kills the browser `times` times; gives for each the age in ms of the oldest edit that was lost (0: none). */
export async function killed(times, seed = 20261127, tell = () => {}) {
  const random = randomFrom(seed);
  const profile = await mkdtemp(join(tmpdir(), 'whorl-kills-'));
  const host = await serve(dist);
  const lost = [];
  let number = 0;
  let edits = [];
  let killedAt = 0;
  let current;
  try {
    for (let turn = 0; turn <= times; turn += 1) {
      current = await start(profile);
      const { page } = current;
      await page.goto(host.url);
      await ready(page);
      if (turn > 0) {
        const back = page.getByRole('status').filter({ hasText: 'is back as you left it' });
        await back.waitFor({ timeout: 20_000 });
        const last = await lastEdit(page);
        const missing = edits.filter((edit) => edit.number > last);
        lost.push(missing.length === 0 ? 0 : killedAt - missing[0].at);
        if (turn % 10 === 0) tell(`${turn} kills, at most ${Math.max(...lost)} ms lost`);
        await page.getByRole('button', { name: 'Remove the run empty, 15 g', exact: true }).waitFor();
      } else {
        await page.getByRole('button', { name: 'Open the example lab' }).click();
        await page.getByRole('status').filter({ hasText: 'Opened' }).waitFor();
      }
      if (turn === times) break;
      edits = [];
      // The edits are made in the page itself, so that their times are those of the page's own clock.
      await page.evaluate(([first, gaps]) => {
        const title = [...document.querySelectorAll('header input[type=text]')][0];
        window.edits = [];
        let number = first;
        const edit = () => {
          number += 1;
          title.value = `Lab ${number}`;
          title.dispatchEvent(new Event('input', { bubbles: true }));
          window.edits.push({ number, at: Date.now() });
          setTimeout(edit, gaps[number % gaps.length]);
        };
        edit();
      }, [number, Array.from({ length: 37 }, () => 20 + random() * 380)]);
      await pause(400 + random() * 2500);
      edits = await page.evaluate(() => window.edits);
      // What came after this reading is younger than the kill, and counts as lost in no case.
      number = edits.at(-1).number + 100;
      killedAt = Date.now();
      await current.kill();
    }
  } finally {
    await current?.kill().catch(() => {});
    await host.close();
    await rm(profile, { recursive: true, force: true });
  }
  return lost;
}

if (process.argv[1]?.endsWith('kills.mjs')) {
  const times = Number(process.argv[2] ?? 200);
  const lost = await killed(times, undefined, console.error);
  const sorted = [...lost].sort((a, b) => a - b);
  console.log(`${times} kills: ${lost.filter((ms) => ms === 0).length} lost nothing; ` +
    `the oldest edit lost was made ${sorted.at(-1)} ms before the kill; median ${sorted[times >> 1]} ms.`);
}
