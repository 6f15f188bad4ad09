// Force diagrams: drawn with the mouse, changed in the list, told in words, checked.

import assert from 'node:assert/strict';
import { test } from 'node:test';

import { saveLab, visit } from './lab-page.mjs';
import { armWith, begin, check, draw, hears, openStep, said, toldInWords } from './prelab-page.mjs';
import { browser, host } from './session.mjs';

/** A visit with a diagram open, that ends without an error. */
async function during(id, run, options) {
  const { page, context, errors } = await visit(browser, host, options);
  try {
    await begin(page);
    await run(await openStep(page, id), page);
    assert.deepEqual(errors, []);
  } finally {
    await context.close();
  }
}

/** The marks where arrows can start, in the scene's square. */
const TOP = [50, 42], MIDDLE = [50, 55];
const RIM = [64, 54], AXIS = [50, 54];
/** How much longer an arrow is drawn for one step of its length. */
const STEP = 7;
const along = ([x, y], [across, down], length) => [x + across * STEP * length, y + down * STEP * length];
const UP = [0, -1], DOWN = [0, 1], CLOCKWISE = 'clockwise';

/** Drags round a mark: from above it by a quarter turn. */
async function turn(place, force, [x, y], sense) {
  await armWith(place, force);
  await draw(place, [x, y - 8], [x + sense * 8, y]);
}

async function drag(place, force, from, way, length) {
  if (way === CLOCKWISE) {
    await turn(place, force, from, 1);
    return;
  }
  await armWith(place, force);
  await draw(place, from, along(from, way, length));
}

/** The arrows as the list tells them. */
const listed = (place) => place.locator('fieldset.arrow-row').evaluateAll((rows) =>
  rows.map((row) => [...row.querySelectorAll('select')].map((select) => select.selectedOptions[0].textContent).join(', ')));

const saved = async (page, id) => {
  const { prelab } = JSON.parse((await saveLab(page)).text);
  return JSON.parse(prelab.steps.find((record) => record.step === id).entered);
};

test('the forces on the falling mass are drawn with the mouse, listed, told in words and accepted', () =>
  during('mass-forces', async (place, page) => {
    const scene = await toldInWords(place);
    assert.match(scene, /^A block hangs on a string .* No arrows yet\.$/);
    const weight = 'weight, the middle of the mass, down, 5 (longest)';
    await drag(place, 'weight', MIDDLE, DOWN, 5);
    assert.deepEqual(await listed(place), [weight]);
    await drag(place, 'pull of the string', TOP, UP, 3);
    assert.deepEqual(await listed(place), [weight, 'pull of the string, the top, where the string is tied, up, 3']);
    assert.match(await toldInWords(place), /Arrows: .*weight.* down.*; .*pull of the string.* up/);
    assert.match(await place.locator('.diagram > [role=status]').textContent(), /^Added: pull of the string/);
    assert.deepEqual(await saved(page, 'mass-forces'), [
      { force: 'weight', at: 'middle', direction: 'down', length: 5 },
      { force: 'tension', at: 'top', direction: 'up', length: 3 },
    ]);
    await check(place);
    await hears(place, 'Accepted. The weight wins over the string’s pull, and what is left over speeds the mass up.');
  }));

test('an arrow is as long as it was dragged, starts at the nearest mark and points the nearest way', () =>
  during('mass-forces', async (place) => {
    for (const length of [1, 2, 4]) {
      await drag(place, 'weight', MIDDLE, DOWN, length);
      assert.match((await listed(place)).join(), new RegExp(`down, ${length}( \\(shortest\\))?$`), 'dragged again, it is changed');
    }
    await armWith(place, 'pull of the string');
    // A hand is not steady: a little beside the mark, a little askew.
    await draw(place, [53, 40], [56, 20]);
    assert.equal((await listed(place))[1], 'pull of the string, the top, where the string is tied, up, 3');
    // A tap is no arrow.
    await armWith(place, 'drag of the air');
    await draw(place, MIDDLE, [MIDDLE[0] + 1, MIDDLE[1] + 1]);
    assert.equal((await listed(place)).length, 2);
  }));

test('without a force chosen nothing is drawn', () =>
  during('mass-forces', async (place) => {
    await draw(place, MIDDLE, along(MIDDLE, DOWN, 4));
    assert.deepEqual(await listed(place), []);
    await check(place);
    await hears(place, 'There is no arrow yet.');
  }));

const WEIGHT = ['weight', MIDDLE, DOWN, 5];
const TENSION = ['pull of the string', TOP, UP, 3];
const STRING = ['pull of the string', RIM, UP, 3];
const FRICTION = ['friction torque', AXIS, CLOCKWISE];

for (const [wrong, id, arrows, expected] of [
  ['a missing weight', 'mass-forces', [TENSION], 'One force acts on the mass even when nothing touches it. Which?'],
  ['a missing tension', 'mass-forces', [WEIGHT], 'Something touches the mass and pulls on it. What?'],
  ['a tension as long as the weight', 'mass-forces', [WEIGHT, ['pull of the string', TOP, UP, 5]], 'With these lengths the mass would not speed up downward.'],
  ['a tension longer than the weight', 'mass-forces', [['weight', MIDDLE, DOWN, 2], TENSION], 'With these lengths the mass would not speed up downward.'],
  ['a weight that points up', 'mass-forces', [['weight', MIDDLE, UP, 5], TENSION], 'Which way does the Earth pull the mass?'],
  ['a tension that pushes', 'mass-forces', [WEIGHT, ['pull of the string', TOP, DOWN, 3]], 'A string can only pull, and only along itself.'],
  ['a tension at the bottom', 'mass-forces', [WEIGHT, ['pull of the string', [50, 68], UP, 3]], 'The string pulls where it touches the mass. Where is that?'],
  ['an invented force of motion', 'mass-forces', [WEIGHT, TENSION, ['force of motion', MIDDLE, DOWN, 2]], 'Motion is no force.'],
  ['an invented push', 'mass-forces', [WEIGHT, TENSION, ['push of a surface', [50, 68], UP, 2]], 'A push needs something that touches the mass.'],
  ['a string that pulls toward the axis', 'table-forces', [['pull of the string', RIM, [-1, 0], 2], FRICTION], 'A string pulls along itself, and here it leaves the drum along the tangent.'],
  ['a string that pulls at the edge of the table', 'table-forces', [['pull of the string', [90, 54], UP, 3], FRICTION], 'The string pulls where it leaves the drum, not elsewhere.'],
  ['an invented outward force', 'table-forces', [STRING, FRICTION, ['outward force', [90, 54], [1, 0], 2]], 'Nothing pulls the table outward'],
  ['a missing friction torque', 'table-forces', [STRING], 'Let the table spin without the string and it slows down. What does that?'],
]) {
  test(`a diagram with ${wrong} gets its own sentence`, () =>
    during(id, async (place) => {
      for (const arrow of arrows) await drag(place, ...arrow);
      assert.equal((await listed(place)).length, arrows.length);
      await check(place);
      await hears(place, expected);
      assert.match((await said(place))[0], /^Not yet\. /);
    }));
}

test('torques are drawn round the axis, and friction the wrong way round gets its own sentence', () =>
  during('table-forces', async (place) => {
    await drag(place, ...STRING);
    await turn(place, 'friction torque', AXIS, -1);
    assert.match((await listed(place))[1], /^friction torque, the axis, anticlockwise/);
    await check(place);
    await hears(place, 'Friction works against the turning. Which way does the table turn?');
    await turn(place, 'friction torque', AXIS, 1);
    assert.match((await listed(place))[1], /^friction torque, the axis, clockwise/);
    await check(place);
    await hears(place, 'Accepted. Two torques compete about the axis: the string’s and the bearing’s.');
  }));

test('an arrow is taken away in the list, and the focus stays where the next one can be', () =>
  during('mass-forces', async (place, page) => {
    for (const arrow of [WEIGHT, TENSION]) await drag(place, ...arrow);
    await place.getByRole('button', { name: 'Remove arrow 1' }).click();
    assert.deepEqual(await listed(place), ['pull of the string, the top, where the string is tied, up, 3']);
    const focus = () => page.evaluate(() => document.activeElement.textContent);
    assert.equal(await focus(), 'Remove arrow 1');
    await page.keyboard.press('Enter');
    assert.deepEqual(await listed(place), []);
    assert.equal(await focus(), 'Add an arrow');
    assert.match(await toldInWords(place), /No arrows yet\.$/);
  }));

test('on a phone the finger scrolls until a force is chosen, then it draws', () =>
  during(
    'mass-forces',
    async (place, page) => {
      const frame = place.locator('.drawing');
      const touch = () => frame.evaluate((element) => getComputedStyle(element).touchAction);
      assert.equal(await touch(), 'auto');
      await armWith(place, 'weight');
      assert.equal(await touch(), 'none');
      await frame.scrollIntoViewIfNeeded();
      const box = await frame.boundingBox();
      const middle = { x: box.x + box.width / 2, y: box.y + box.height / 2 };
      const session = await page.context().newCDPSession(page);
      const send = (type, points) => session.send('Input.dispatchTouchEvent', { type, touchPoints: points });
      await send('touchStart', [middle]);
      await send('touchMove', [{ x: middle.x, y: middle.y + 0.15 * box.height }]);
      await send('touchMove', [{ x: middle.x, y: middle.y + 0.3 * box.height }]);
      await send('touchEnd', []);
      const [arrow, ...others] = await listed(place);
      assert.match(arrow, /^weight, the middle of the mass, down, [45]/);
      assert.deepEqual(others, []);
    },
    { viewport: { width: 360, height: 740 }, hasTouch: true, isMobile: true },
  ));
