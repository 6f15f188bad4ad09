// What a student found in the pre-lab goes on: into the next steps, and into the working of the analysis.

import assert from 'node:assert/strict';
import { test } from 'node:test';

import { openExample, openLab, ready, saveLab, station } from './lab-page.mjs';
import { answer, asFile, begin, openStep, plain, prelab, RIGHT, solve } from './prelab-page.mjs';
import { during } from './session.mjs';

/** The accepted answers shown above a step's field. */
const found = async (place) => (await place.locator('.found > li').allTextContents()).map(plain);

/** Waits until a step shows these answers above its field. */
async function finds(place, expected) {
  const { length } = expected;
  await place.page().waitForFunction(({ id, length, last }) => {
    const list = [...document.querySelectorAll(`#${id} .found > li`)].map((item) => item.textContent.replace(/\u2062/g, ''));
    return list.length === length && (length === 0 || list.at(-1) === last);
  }, { id: await place.getAttribute('id'), length, last: expected.at(-1) });
  assert.deepEqual(await found(place), expected);
}

/** The steps of a working: their words, and their formulas in one line. */
async function working(within, of) {
  const details = within.locator('details.working').filter({ has: within.page().locator('summary', { hasText: of }) }).first();
  if (!(await details.evaluate((element) => element.open))) await details.locator('summary').click();
  await details.locator('.steps > li').first().waitFor();
  const steps = await details.locator('.steps > li').evaluateAll((items) =>
    items.map((item) => [item.querySelector('p').textContent, item.querySelector('math').getAttribute('aria-label')]));
  return steps.map(([words, math]) => ({ words, math: math.split('; ').map(plain) }));
}

const own = 'Your own expression from the pre-lab. With these values it gives the number used here.';
const about = (steps, target) => steps.find(({ math }) => math[0].startsWith(`${target} = `));

test('the student’s own accepted expressions stand above the later steps, in their own spelling', () =>
  during(async (page) => {
    await begin(page);
    const torque = await openStep(page, 'string-torque');
    assert.deepEqual(await found(torque), []);
    await solve(page, 'rim', 'at = a');
    await solve(page, 'tension', '(g - a)m');
    // One side was typed; the target stands in front of it all the same. A step that is open follows.
    await finds(torque, ['at=a', 'T=(g−a)m']);
    await answer(await openStep(page, 'tension'), 'T = m g^2/g - m a');
    await finds(torque, ['at=a', 'T=mg2g−ma']);
    await answer(await openStep(page, 'tension'), 'T = m g');
    await finds(torque, ['at=a', 'T=mg2g−ma']);
    // A step before it does not hear of it.
    assert.deepEqual(await found(await openStep(page, 'balance')), ['at=a']);
  }));

test('the student’s own tension and torque stand with their values in the working of a run', () =>
  during(async (page) => {
    await openExample(page);
    const before = await working(station(page, 'Acceleration'), 'of this run');
    assert.equal(about(before, 'T').math[0], 'T = m·(g − a)');
    assert.ok(before.every(({ words }) => words !== own));
    await begin(page);
    await solve(page, 'no-slip', 'alpha R = a');
    await solve(page, 'tension', 'T = m(g^2 - a^2)/(g + a)');
    await solve(page, 'string-torque', '(m g - m a) R');
    const after = await working(station(page, 'Acceleration'), 'of this run');
    assert.equal(after.length, before.length);

    const tension = about(after, 'T');
    assert.equal(tension.words, own);
    assert.match(tension.math[0], /^T = m·\(g² − a²\)\/\(g \+ a\)$/);
    assert.match(tension.math[1], /^T = 0\.015 kg·\(\(9\.81 m\/s²\)² − \(0\.0459\d* m\/s²\)²\)\/\(9\.81 m\/s² \+ 0\.0459\d* m\/s²\)$/);
    assert.equal(tension.math.at(-1), about(before, 'T').math.at(-1), 'the same number as without it');

    const torque = about(after, 'τ');
    assert.equal(torque.words, own);
    // In the apparatus the string has a thickness: what the student called R is the effective radius.
    assert.equal(torque.math[0], 'τ = (m·g − m·a)·R_e');
    assert.equal(torque.math.at(-1), about(before, 'τ').math.at(-1));
    // Not solved for α: the working keeps its own.
    assert.deepEqual(about(after, 'α'), about(before, 'α'));
  }));

test('what carries over from the pre-lab is there again in a lab that was saved and opened', () =>
  during(async (page) => {
    await openExample(page);
    await begin(page);
    await solve(page, 'tension', 'T = m g(1 - a/g)');
    await solve(page, 'object', '-(I_empty - I_loaded)');
    const saved = await saveLab(page);
    await page.reload();
    await ready(page);
    await openLab(page, asFile(saved.name, saved.text));
    await prelab(page).locator('ol.derivation').waitFor();
    await station(page, 'Object alone').locator('details.working').first().waitFor();
    const run = await working(station(page, 'Acceleration'), 'of this run');
    assert.equal(about(run, 'T').math[0], 'T = m·g·(1 − a/g)');
    assert.equal(about(run, 'T').words, own);
    const object = await working(station(page, 'Object alone'), 'of this object');
    const subtraction = object.find(({ words }) => words === own);
    assert.match(subtraction.math[0], /^I_object = −\(I_empty − I_loaded\)$/);
    assert.match(subtraction.math[1], /kg·m²/);
  }));

test('the student’s own line stands beside the measured one', () =>
  during(async (page) => {
    await openExample(page);
    await begin(page);
    const lines = station(page, 'Inertia line').locator('.own-line');
    assert.equal(await lines.count(), 0);
    await solve(page, 'rotation', RIGHT.rotation);
    assert.equal(await lines.count(), 0, 'a relation that is not solved for the torque is no line yet');
    await solve(page, 'line', 'tau_f + alpha I');
    await lines.first().waitFor();
    assert.equal(await lines.count(), 1, 'said once, whatever number of lines is measured');
    assert.equal(plain(await lines.first().textContent()), 'Your line from the pre-lab: τs=τf+αI');
  }));
