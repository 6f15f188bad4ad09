// The second thread: it propagates distributions and reads files, tells how far it is, ends, and can be stopped.

import assert from 'node:assert/strict';
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
function readFiles(files) {
  return page.evaluate(
    (files) =>
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
          if (data === '') send();
          else if (data.progress !== undefined) progress.push(data.progress);
          else {
            const columns = data.columns.map((pair) => pair.map((column) => [column.constructor.name, ...column]));
            answers.push({ id: data.id, intake: JSON.parse(data.intake), columns, progress });
            progress = [];
            if (answers.length < files.length) send();
            else {
              worker.terminate();
              resolve(answers);
            }
          }
        };
      }),
    files.map((file) => ({ choices: '', lab, ...file })),
  );
}

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

test('files are read one after another, each with its name, its bytes and an answer', async () => {
  const files = [
    { name: 'ring.csv', text: 't (s),v (m/s)\n0.1,0.2\n0.2,0.4\n0.3,0.6\n' },
    { name: 'empty.csv', text: '' },
  ];
  const answers = await readFiles(files);
  answers.forEach(({ id, intake, columns, progress }, index) => {
    assert.equal(id, index);
    assert.equal(intake.file, files[index].name);
    assert.equal(intake.bytes, files[index].text.length);
    assert.equal(columns.length, intake.runs.length);
    intake.runs.forEach((run, place) => {
      for (const [type, ...numbers] of columns[place]) {
        assert.equal(type, 'Float64Array');
        assert.equal(numbers.length, run.readings);
      }
    });
    assert.ok(progress.every((share) => share >= 0 && share <= 1), progress.join(' '));
  });
});

test('a file above the limit is refused before it is loaded, and what makes no sense has an answer too', async () => {
  const [large, ...senseless] = await readFiles([
    { name: 'long.csv', zeros: 256 * 1024 * 1024 },
    { name: 'a.csv', text: '1\n2\n', choices: 'decimal=dot' },
    { name: 'b.csv', text: '1\n2\n', lab: '{"format": "whorl-lab", "version": 99}' },
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
