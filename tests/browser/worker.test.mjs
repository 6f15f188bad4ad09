// The second thread: it propagates distributions and reads files, tells how far it is, ends, and can be stopped.

import assert from 'node:assert/strict';
import { createHash } from 'node:crypto';
import { readFile } from 'node:fs/promises';
import { after, before, test } from 'node:test';

import { dist, launch, listenForErrors } from './browser.mjs';
import { ready } from './lab-page.mjs';
import { serve } from './serve.mjs';

/** Two lines of six runs each, as `whorl analyse tests/labs/twelve/lab.json --monte-carlo` gives it. */
const model = await readFile(new URL('twelve-runs.model', import.meta.url), 'utf8');

/** A lab as the page saves it for the thread; its object has an id that opening would change. */
const lab = JSON.stringify({
  format: 'whorl-lab',
  version: 2,
  title: '',
  objects: [{ id: 7, name: 'brass ring', parts: [] }],
  runs: [],
});

let browser, host, page, errors;
before(async () => {
  browser = await launch();
  host = await serve(dist);
  page = await browser.newPage();
  errors = listenForErrors(page);
  await page.goto(host.url);
  await ready(page);
});
after(async () => {
  await browser?.close();
  await host?.close();
});

/** Sends a text to a new thread; gives all it says with the time of each, in ms from the page's asking. */
function ask(text, { stopAtFirstWord = false } = {}) {
  return page.evaluate(
    ([text, stopAtFirstWord]) =>
      new Promise((resolve, reject) => {
        const version = document.querySelector('link[rel=modulepreload]').getAttribute('href').split('/').pop();
        const worker = new Worker(`worker.js?${version}`);
        const start = performance.now();
        const said = [];
        worker.onerror = (event) => reject(new Error(event.message));
        worker.onmessage = ({ data }) => {
          said.push({ text: data, at: performance.now() - start });
          if (data === '') worker.postMessage(text);
          else if (stopAtFirstWord) {
            const words = said.length;
            worker.terminate();
            const stopped = performance.now() - start - said.at(-1).at;
            setTimeout(() => resolve({ said, stopped, after: said.length - words }), 500);
          } else if (!/^\d/.test(data)) {
            worker.terminate();
            resolve({ said });
          }
        };
      }),
    [text, stopAtFirstWord],
  );
}

/**
 * Has one new thread read files, given as `{ name, text | zeros | gone, choices, lab }`: their text, or so many
 * zero bytes, or no file at all. Gives for each its id, its intake, its columns and how often progress was told.
 */
function readFiles(files, { on = page, rehearse = false } = {}) {
  return on.evaluate(
    ([files, rehearse]) =>
      new Promise((resolve, reject) => {
        const version = document.querySelector('link[rel=modulepreload]').getAttribute('href').split('/').pop();
        const worker = new Worker(`worker.js?${version}`);
        const answers = [];
        let progress = [];
        const send = () => {
          const id = answers.length;
          const { name, text = '', zeros, choices, lab } = files[id];
          const file = new Blob([zeros === undefined ? text : new Uint8Array(zeros)]);
          worker.postMessage({ id, file, name, choices, lab });
        };
        worker.onerror = (event) => reject(new Error(event.message));
        worker.onmessage = ({ data }) => {
          if (data === '') {
            if (rehearse) worker.postMessage({ rehearse });
            send();
          } else if (data.progress !== undefined) progress.push(data.progress);
          else {
            if (data.sha256 !== undefined) {
              answers.at(-1).signed = [data.id, data.sha256];
            } else {
              const columns = data.columns.map((pair) => pair.map((column) => [column.constructor.name, ...column]));
              answers.push({ id: data.id, intake: JSON.parse(data.intake), columns, progress });
              progress = [];
            }
            const { intake, signed } = answers.at(-1);
            if (intake.problem === null && intake.sha256 === '' && signed === undefined) return;
            if (answers.length < files.length) send();
            else {
              worker.terminate();
              resolve(answers);
            }
          }
        };
      }),
    [files.map((file) => ({ choices: '', lab, ...file })), rehearse],
  );
}

const sha256 = (text) => createHash('sha256').update(text).digest('hex');

/** The first-order results in the model's text: value and standard uncertainty, in the outcome's order. */
const firstOrder = model
  .split('\n')
  .map((line) => line.split(' '))
  .filter(([key]) => ['moment', 'torque', 'alone', 'difference'].includes(key))
  .map(([, value, u]) => [Number(value), Number(u)]);

test('a model is simulated in a second thread, which tells how far it is', async (t) => {
  const { said } = await ask(model);
  const [begun, ...rest] = said;
  const outcome = rest.pop();
  assert.equal(begun.text, '');
  const [head, ...results] = outcome.text.trim().split('\n').map((line) => line.split(' '));
  assert.equal(head[0], 'trials');
  const trials = Number(head[1]);
  assert.ok(trials >= 100_000 && trials <= 1_000_000, head.join(' '));
  assert.equal(results.length, firstOrder.length);
  results.forEach(([, mean, u], index) => {
    const [value, first] = firstOrder[index];
    // A tenth of u is thirty standard deviations of a mean of 100 000 trials.
    assert.ok(Math.abs(mean - value) < 0.1 * first, `${index}: ${mean}, first order ${value}`);
    assert.ok(u / first > 0.9 && u / first < 1.6, `${index}: ${u}, first order ${first}`);
  });
  const progress = rest.map(({ text }) => text.split(' ').map(Number));
  progress.forEach(([done, share], index) => {
    assert.ok(done < trials && share >= 0 && share <= 1, `${done} ${share}`);
    assert.ok(index === 0 || done > progress[index - 1][0]);
  });
  const took = outcome.at - begun.at;
  t.diagnostic(`ready after ${begun.at.toFixed(0)} ms; ${trials} trials in ${took.toFixed(0)} ms: ${((1000 * trials) / took).toFixed(0)} per second; ${progress.length} words of progress`);
  // Ten a second, less what one block takes.
  assert.ok(progress.length >= Math.floor(took / 250) - 1 && progress.length <= took / 100, `${progress.length} in ${took} ms`);
});

test('the page answers while it runs, and stops it at once', async (t) => {
  const { said, stopped, after: heard } = await ask(model, { stopAtFirstWord: true });
  t.diagnostic(`stopped within ${stopped.toFixed(1)} ms of ${said.at(-1).text}`);
  assert.match(said.at(-1).text, /^\d/);
  assert.equal(heard, 0);
  assert.ok(stopped < 50, `${stopped}`);
});

test('what is no model is refused', async () => {
  const { said } = await ask('whorl-monte-carlo-1\nnothing');
  assert.deepEqual(said.map(({ text }) => text), ['', '?']);
});

test('files are read one after another, each with its bytes, its numbers and what the lab knows of it', async () => {
  const [ring, empty] = await readFiles([
    { name: 'brass-ring-50g.csv', text: 't (s);v (cm/s)\n0,1;20\n0,2;40,5\n0,3;60\n0,4;80\n' },
    { name: 'empty.csv', text: '' },
  ]);
  assert.deepEqual([ring.id, ring.intake.file, ring.intake.bytes, ring.intake.problem], [0, 'brass-ring-50g.csv', 45, null]);
  const [run] = ring.intake.runs;
  assert.equal(ring.intake.runs.length, 1);
  // The id that the object has on the page.
  assert.deepEqual([run.carries, run.object, run.hanging_mass_kg], ['object', 7, 0.05]);
  assert.deepEqual([run.kind, run.readings], ['velocity', 4]);
  const [times, speeds] = ring.columns[0];
  assert.deepEqual(times, ['Float64Array', 0.1, 0.2, 0.3, 0.4]);
  assert.equal(speeds[0], 'Float64Array');
  [0.2, 0.405, 0.6, 0.8].forEach((speed, place) => assert.ok(Math.abs(speeds[place + 1] - speed) < 1e-12, speeds.join(' ')));
  assert.deepEqual([empty.id, empty.intake.file, empty.intake.bytes, empty.intake.runs], [1, 'empty.csv', 0, []]);
  assert.match(empty.intake.problem, /^line 1, column 1: /);
});

test('a long file tells how far it is, at most ten times a second, and comes back whole', async (t) => {
  // So many that block × count does not fit into 32 bits.
  const count = 400_000;
  const rows = Array.from({ length: count }, (_, k) => `${(k / 1000).toFixed(3)},${(0.1 + 0.0005 * k + 0.001 * Math.sin(k)).toFixed(5)}\n`);
  const text = `t (s),v (m/s)\n${rows.join('')}`;
  const start = performance.now();
  const [long] = await readFiles([{ name: 'long.csv', text }]);
  const took = performance.now() - start;
  t.diagnostic(`${count} rows in ${took.toFixed(0)} ms, told of ${long.progress.length} times`);
  assert.equal(long.intake.layout.rows, count);
  assert.equal(long.intake.runs[0].readings, long.columns[0][0].length - 1);
  assert.ok(long.intake.runs[0].readings <= 20_000, `${long.intake.runs[0].readings} kept`);
  assert.ok(long.progress.length <= took / 100 && long.progress.every((share, k) => share >= (long.progress[k - 1] ?? 0) && share <= 1));
});

/** Two files, the larger of which has its fingerprint made by the browser, if it will. */
const SIGNED = ['t (s),v (m/s)\n0,1\n1,2\n2,3\n', `t (s),v (m/s)\n${Array.from({ length: 9_000 }, (_, k) => `${k},${2 * k}\n`).join('')}`];

function checkFingerprints(answers) {
  const [small, large] = answers;
  assert.deepEqual([small.intake.sha256, small.signed], [sha256(SIGNED[0]), undefined]);
  assert.deepEqual([large.intake.sha256, large.signed], ['', [1, sha256(SIGNED[1])]]);
  assert.deepEqual([small.intake.bytes, large.intake.bytes], SIGNED.map((text) => text.length));
}

test('a small file comes with its fingerprint, that of a large one follows, after a rehearsal as well', async () => {
  const files = SIGNED.map((text, place) => ({ name: `${place}.csv`, text }));
  checkFingerprints(await readFiles(files));
  checkFingerprints(await readFiles(files, { rehearse: true }));
});

test('fingerprints are made as well where the browser makes none: a page that came by plain http', async () => {
  const unsafe = await launch(['--host-resolver-rules=MAP whorl.test 127.0.0.1']);
  const on = await unsafe.newPage();
  await on.goto(host.url.replace(/\/\/[^:/]+/, '//whorl.test'));
  assert.equal(await on.evaluate(() => globalThis.isSecureContext), false);
  await ready(on);
  checkFingerprints(await readFiles(SIGNED.map((text, place) => ({ name: `${place}.csv`, text })), { on }));
  await unsafe.close();
});

test('a file above the limit is refused before it is loaded, and what makes no sense has an answer too', async () => {
  const [large, ...senseless] = await readFiles([
    { name: 'long.csv', zeros: 256 * 1024 * 1024 },
    { name: 'a.csv', text: '1\n2\n', choices: 'decimal=dot' },
    { name: 'b.csv', text: '1\n2\n', lab: '{"format": "whorl-lab", "version": 99, "runs": [5]}' },
  ]);
  assert.match(large.intake.problem, /too large \(268\.4 MB; the limit is [\d.]+ MB\)/);
  assert.equal(large.intake.bytes, 256 * 1024 * 1024);
  assert.match(senseless[0].intake.problem, /makes no sense/);
  assert.match(senseless[1].intake.problem, /newer Whorl/);
});

test('nothing of it is asked for before it is needed, and nothing went wrong', async () => {
  const own = await serve(dist);
  const visit = await browser.newPage();
  await visit.goto(own.url);
  await ready(visit);
  await visit.waitForLoadState('networkidle');
  assert.ok(!own.asked.some((path) => path.includes('worker')), own.asked.join(' '));
  await visit.close();
  await own.close();
  assert.deepEqual(errors, []);
});
