// Every station by keys and by ear: plays the scripts of `scripts/`, which are told in its README.

import assert from 'node:assert/strict';
import { readFile, readdir } from 'node:fs/promises';
import { test } from 'node:test';

import { missed } from './reach.mjs';
import { steps } from './script-lines.mjs';
import { Player } from './script-player.mjs';
import { browser, host } from './session.mjs';

const folder = new URL('./scripts/', import.meta.url);
const names = (await readdir(folder)).filter((name) => /^\d.*\.txt$/.test(name)).sort();
const seen = [];
/** What no script can come to. */
const excused = (await readFile(new URL('unreached.txt', folder), 'utf8')).split('\n').filter((line) => !line.startsWith('#') && line.includes(' — ')).map((line) => line.split(' — ')[0]);

for (const name of names) {
  test(`by keys and by ear: ${name.replace('.txt', '')}`, async (t) => {
    const script = steps(await readFile(new URL(name, folder), 'utf8'));
    const player = await Player.on(browser, host);
    try {
      for (const step of script) await player.play(step);
      assert.deepEqual([...player.faults, ...player.errors], []);
    } finally {
      seen.push(...(await player.end()));
    }
    const { keys, stops, most } = player.figures;
    t.diagnostic(`${script.length} lines, ${keys} keys, ${stops} stops, at most ${most} announcements while a text was typed`);
  });
}

test('no control is without a script that comes to it', () => {
  assert.ok(seen.length > 100, `${seen.length} controls seen`);
  assert.deepEqual(missed(seen).filter((one) => !excused.some((control) => one.endsWith(control))), []);
  for (const control of excused) assert.ok(seen.some((one) => one.control === control && !one.reached), `${control} is excused in vain`);
});
