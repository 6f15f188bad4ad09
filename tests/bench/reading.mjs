// A million rows read and fitted by the native program, by the page's second thread in Chromium, and by pandas
// with numpy: in turn, several times, so that a busy machine slows all alike. `cargo xtask bench`
//
// As on the page, the second thread rehearses while a file is being chosen; “at once” is what a file meets that
// comes as soon as the thread is there. pandas, too, has read a table before.

import { execFileSync } from 'node:child_process';
import { readFile } from 'node:fs/promises';
import { loadavg } from 'node:os';

import { dist, launch } from '../browser/browser.mjs';
import { serve } from '../browser/serve.mjs';

const ROUNDS = 9;
const CHOOSING_MS = 1500;
const [csv, lab, native, python, pandas] = process.argv.slice(2);
const labText = await readFile(lab, 'utf8');

const run = (program, ...words) => JSON.parse(execFileSync(program, words, { encoding: 'utf8' }));

/** A new thread reads the file as the page would have it read. The clock starts when it is given the file. */
async function inBrowser(page, choosing) {
  const thread = page.waitForEvent('worker');
  const answer = page.evaluate(
    ({ lab, choosing }) =>
      new Promise((resolve, reject) => {
        const worker = new Worker('worker.js?bench');
        let start;
        const give = () => {
          start = performance.now();
          const file = document.querySelector('#bench').files[0];
          worker.postMessage({ id: 1, file, name: file.name, choices: '', lab });
        };
        worker.onerror = (event) => reject(new Error(event.message));
        worker.onmessage = ({ data }) => {
          if (data === '' && choosing > 0) {
            worker.postMessage({ rehearse: true });
            setTimeout(give, choosing);
          } else if (data === '') {
            give();
          } else if (data.intake !== undefined) {
            resolve({ ms: performance.now() - start, intake: data.intake });
          }
        };
        globalThis.benched = worker;
      }),
    { lab: labText, choosing },
  );
  const { ms, intake } = await answer;
  // Asked again for what is loaded already, it gives what the program exports.
  const memory = await (await thread).evaluate(async () => (await wasm_bindgen()).memory.buffer.byteLength);
  await page.evaluate(() => globalThis.benched.terminate());
  const { runs, problem } = JSON.parse(intake);
  const { acceleration, acceleration_problem } = runs[0]?.first_look ?? {};
  const found = acceleration && `${acceleration}, ${runs[0].readings} readings kept`;
  return { ms, memory, result: found ?? `none: ${acceleration_problem ?? problem}` };
}

const browser = await launch();
const host = await serve(dist);
const page = await browser.newPage();
await page.goto(host.url);
await page.evaluate(() => {
  document.body.innerHTML = '<input type="file" id="bench">';
});
await page.setInputFiles('#bench', csv);

const SIDES = {
  native: () => run(native, csv, lab),
  wasm: () => inBrowser(page, CHOOSING_MS),
  'at once': () => inBrowser(page, 0),
  pandas: () => run(python, pandas, csv),
};
const rounds = [];
try {
  for (let round = 0; round < ROUNDS; round++) {
    const times = {};
    for (const [name, side] of Object.entries(SIDES)) times[name] = await side();
    if (times.native.result !== times.wasm.result) {
      throw new Error(`the native program found ${times.native.result}, the browser ${times.wasm.result}`);
    }
    rounds.push(times);
  }
} finally {
  await browser.close();
  await host.close();
}

const sorted = (numbers) => numbers.toSorted((a, b) => a - b);
const median = (numbers) => sorted(numbers)[(numbers.length - 1) / 2];
const spread = (numbers, digits) => {
  const [least, most] = [sorted(numbers)[0], sorted(numbers).at(-1)];
  return `${median(numbers).toFixed(digits).padStart(8)}   ${least.toFixed(digits)} to ${most.toFixed(digits)}`;
};
const megabytes = (bytes) => (bytes === null ? 'not told' : `${(bytes / 1e6).toFixed(0)} MB`);

console.log(`\n1 000 000 rows, ${(await readFile(csv)).length / 1e6} MB; ${ROUNDS} rounds; load ${loadavg()[0].toFixed(1)}\n`);
console.log('ms         median   least to most        memory     what came out');
for (const name of Object.keys(SIDES)) {
  const { memory, result } = rounds.at(-1)[name];
  const times = spread(rounds.map((round) => round[name].ms), 0).padEnd(30);
  console.log(`${name.padEnd(9)}${times} ${megabytes(memory).padEnd(10)} ${JSON.stringify(result)}`);
}
console.log('\nratio        median   least to most    wanted');
for (const [over, under, wanted] of [['wasm', 'native', 'at most 2'], ['wasm', 'pandas', 'below 1']]) {
  const ratios = rounds.map((round) => round[over].ms / round[under].ms);
  console.log(`${`${over}/${under}`.padEnd(12)} ${spread(ratios, 2).padEnd(25)} ${wanted}`);
}
