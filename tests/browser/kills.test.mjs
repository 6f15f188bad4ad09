// A few of the kills of `kills.mjs`; many more take minutes.

import assert from 'node:assert/strict';
import { test } from 'node:test';

import { killed } from './kills.mjs';

test('a browser that is killed loses at most the last second, and what is kept opens', async () => {
  const lost = await killed(8);
  assert.equal(lost.length, 8);
  assert.ok(lost.every((ms) => ms <= 1000), `the oldest edits lost, in ms before the kill: ${lost.join(', ')}`);
});
