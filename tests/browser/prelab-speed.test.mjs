// How fast the pre-lab answers on a computer a quarter as fast as this one. The times are printed;
// asserted are ratios within one run, which hold on any machine.

import assert from 'node:assert/strict';
import { test } from 'node:test';

import { openExample, visit } from './lab-page.mjs';
import { begin, field, openStep, RIGHT, solve } from './prelab-page.mjs';
import { browser, host } from './session.mjs';

/** What reading and judging an answer should take, in ms at a quarter of the speed; building the page comes on top. */
const BUDGET = 2;
/**
 * How many times as long a key or a check may take in a lab with 23 runs as in an empty one. Ours takes
 * about as long; were the runs fitted at every key, it would be many times as long.
 */
const MOST_TIMES_EMPTY = 3;
/** How many times as long as what the page does after any check, reading and judging alone may take. */
const MOST_TIMES_PAGE = 2;
/** How many times as long checking 20 times as many characters may take: in proportion, no more. */
const MOST_TIMES_SHORT = 20;
/** How many times as long as an unfinished short answer one may take that is refused for its length or depth. */
const MOST_TIMES_REFUSED = 20;

/**
 * Rounds behind each time: a slowed-down processor pauses for milliseconds and then runs at full speed,
 * so that one round tells nothing and only a mean tells the slowness.
 */
const ROUNDS = 12;
/** Rounds behind the time of reading and judging alone, which is too short for a mean among pauses. */
const ROUNDS_ALONE = 60;

/** Slows the page's processor down by a factor. */
async function slowDown(page, rate) {
  const session = await page.context().newCDPSession(page);
  await session.send('Emulation.setCPUThrottlingRate', { rate });
}

/**
 * Enters texts and, if asked to, checks each; rounds of all of them, one after the other. Gives the times
 * of each text in ms, from the event to the last of the work that follows in its turn.
 */
function timed(place, texts, what, rounds = ROUNDS) {
  return field(place).evaluate(async (own, { texts, what, rounds }) => {
    const reading = document.getElementById(own.getAttribute('aria-describedby'));
    const said = own.closest('details').querySelector('.ladder [role=status]');
    const seen = what === 'key' ? reading : said;
    let changed = false;
    const observer = new MutationObserver(() => { changed = true; });
    observer.observe(seen, { childList: true, subtree: true, characterData: true });
    const settle = async () => {
      for (let turn = 0; turn < 20; turn += 1) await null;
    };
    const enter = (text) => {
      own.value = text;
      own.dispatchEvent(new Event('input', { bubbles: true }));
    };
    const times = texts.map(() => []);
    for (let round = -2; round < rounds; round += 1) {
      for (const [index, text] of texts.entries()) {
        if (what === 'check') {
          enter(text);
          await settle();
        }
        changed = false;
        const start = performance.now();
        if (what === 'key') enter(text);
        else own.form.dispatchEvent(new Event('submit', { bubbles: true, cancelable: true }));
        await settle();
        const taken = performance.now() - start;
        if (!changed) throw new Error(`nothing followed “${text}” within the turn`);
        // The first two rounds are for the browser's compiler.
        if (round >= 0) times[index].push(taken);
        await new Promise((drawn) => setTimeout(drawn, 0));
      }
    }
    return times;
  }, { texts, what, rounds });
}

const mean = (numbers) => numbers.reduce((sum, one) => sum + one, 0) / numbers.length;
/** The mean of the middle half: the browser's clock ticks too coarsely for a median, and some rounds are interrupted. */
const middle = (numbers) => {
  const quarter = Math.floor(numbers.length / 4);
  return mean([...numbers].sort((a, b) => a - b).slice(quarter, numbers.length - quarter));
};

/** Every beginning of an answer, as it is typed. */
const beginnings = (text) => [...text].map((_, index) => text.slice(0, index + 1)).filter((part) => !part.endsWith(' '));

/** Wrong answers whose first rung is words alone, as that of an empty answer is; the last has formulas in it too. */
const WRONG = ['T = m g', 'T = m(a - g)', 'T = (g - a)/m', 'T = m g - m a + m g'];

/** Goes to the tension, in a lab that is empty or has the example's runs in it. */
async function toTension(withRuns, rate) {
  const { page, context, errors } = await visit(browser, host);
  if (withRuns) await openExample(page);
  await begin(page);
  for (const id of ['rim', 'no-slip', 'balance']) await solve(page, id);
  const place = await openStep(page, 'tension');
  await slowDown(page, rate);
  const leave = async () => {
    assert.deepEqual(errors, []);
    await context.close();
  };
  return { place, leave };
}

async function meanTimes(withRuns, rate) {
  const { place, leave } = await toTension(withRuns, rate);
  const key = mean((await timed(place, beginnings(RIGHT.tension), 'key')).map(mean));
  const check = mean((await timed(place, WRONG, 'check')).map(mean));
  await leave();
  return { key, check };
}

test('a key and a check take about as long in a lab full of runs as in an empty one', async (t) => {
  const all = {};
  for (const rate of [1, 4]) {
    for (const withRuns of [false, true]) {
      const where = `${withRuns ? '23 runs' : 'no runs'}, ${rate === 1 ? 'full speed' : 'a quarter of it'}`;
      const { key, check } = (all[where] = await meanTimes(withRuns, rate));
      t.diagnostic(`${where}: a key ${key.toFixed(2)} ms, a check ${check.toFixed(2)} ms, both with the page that follows`);
    }
  }
  for (const speed of ['full speed', 'a quarter of it']) {
    for (const what of ['key', 'check']) {
      const ratio = all[`23 runs, ${speed}`][what] / all[`no runs, ${speed}`][what];
      t.diagnostic(`${what}, ${speed}: ${ratio.toFixed(2)} times as long with 23 runs`);
      assert.ok(ratio <= MOST_TIMES_EMPTY, `${what}, ${speed}: ${ratio}`);
    }
  }
});

test('reading and judging is a small part of a check', async (t) => {
  const { place, leave } = await toTension(false, 1);
  // An empty answer is refused unread: what its check takes is the page's.
  const texts = WRONG.flatMap((answer) => ['', answer]);
  const times = (await timed(place, texts, 'check', ROUNDS_ALONE)).map(middle);
  const page = mean(times.filter((_, index) => texts[index] === ''));
  const alone = times.filter((_, index) => texts[index] !== '').map((time) => time - page);
  const told = WRONG.map((answer, index) => `${answer} ${alone[index].toFixed(2)} ms`).join(', ');
  t.diagnostic(`at full speed, beyond the ${page.toFixed(2)} ms of the page: ${told}`);
  t.diagnostic(`that is ${(4 * mean(alone)).toFixed(2)} ms at a quarter of the speed; wanted ${BUDGET} ms`);
  assert.ok(mean(alone) <= MOST_TIMES_PAGE * page, told);
  await leave();
});

test('a long answer takes longer in proportion, no more', async (t) => {
  const { page, context } = await visit(browser, host);
  await begin(page);
  const place = await openStep(page, 'single-run');
  const short = 'm R^2 + tau_f';
  const long = `${'m R^2(g - a)/a + '.repeat(16)}tau_f R/a`;
  await slowDown(page, 4);
  const [brief, lengthy] = (await timed(place, [short, long], 'check')).map(mean);
  t.diagnostic(`checked at a quarter of the speed: ${short.length} characters ${brief.toFixed(2)} ms, ${long.length} characters ${lengthy.toFixed(2)} ms`);
  assert.ok(long.length >= 20 * short.length);
  assert.ok(lengthy <= MOST_TIMES_SHORT * brief, `${lengthy} ms against ${brief} ms`);
  await context.close();
});

test('what is far too long or far too deeply nested is refused as fast as anything else', async (t) => {
  const { page, context, errors } = await visit(browser, host);
  await begin(page);
  const place = await openStep(page, 'tension');
  await slowDown(page, 4);
  const texts = [
    'T = m g + ',
    `T = ${'m + '.repeat(25_000)}g`,
    `T = ${'('.repeat(10_000)}m${')'.repeat(10_000)}`,
    `T = ${'('.repeat(150)}m${')'.repeat(150)}`,
  ];
  const [short, ...refused] = (await timed(place, texts, 'key')).map(mean);
  const told = refused.map((time) => `${time.toFixed(1)} ms`).join(', ');
  t.diagnostic(`a quarter of the speed: 100,000 characters, 10,000 brackets, 150 brackets: ${told}; a short one ${short.toFixed(1)} ms`);
  for (const time of refused) assert.ok(time <= MOST_TIMES_REFUSED * short, told);
  for (const [text, says] of [[texts[1], /longer than \d+ characters/], [texts[2], /longer than \d+ characters/], [texts[3], /brackets stand inside each other/]]) {
    await field(place).evaluate((own, text) => {
      own.value = text;
      own.dispatchEvent(new Event('input', { bubbles: true }));
    }, text);
    await place.locator('.understood .hint').filter({ hasText: says }).waitFor();
  }
  assert.deepEqual(errors, []);
  await context.close();
});
