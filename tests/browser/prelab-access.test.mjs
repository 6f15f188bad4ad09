// The pre-lab for everyone: by assistive technology, small, zoomed, respaced, in forced colors.

import assert from 'node:assert/strict';
import { test } from 'node:test';

import { NARROW, SIZES, WIDER, tooWide, violations, wear } from './inspection.mjs';
import { focused, tabTo } from './keys.mjs';
import { visit } from './lab-page.mjs';
import { answer, begin, check, field, further, openStep, prelab, solve, TWO_MASSES } from './prelab-page.mjs';
import { browser, host } from './session.mjs';

async function during(options, run) {
  const { page, context, errors } = await visit(browser, host, options);
  try {
    await run(page);
    assert.deepEqual(errors, []);
  } finally {
    await context.close();
  }
}

/** Goes down the ladder to its last rung. */
async function allRungs(place) {
  await place.locator('.ladder .rung').first().waitFor();
  while (await further(place).isVisible()) {
    const before = await place.locator('.ladder .rung').count();
    await further(place).click();
    await place.locator('.ladder .rung').nth(before).waitFor();
  }
}

/** Puts arrows on a diagram, by the list. */
async function arrows(place, forces) {
  for (const [index, force] of forces.entries()) {
    await place.getByRole('button', { name: 'Add an arrow' }).click();
    const row = place.locator('fieldset.arrow-row').nth(index);
    await row.getByLabel('Force').selectOption(force);
    await row.getByLabel('Starts at').selectOption({ index });
  }
}

/** Steps of every kind, open, with right and wrong answers and all that is said to them. */
async function fill(page) {
  await begin(page);
  await solve(page, 'rim');
  await solve(page, 'object');
  // Read in another way than it was meant: the answer stands in what is said to it.
  await wrong(page, 'no-slip', 'alpha = a/2R');
  await allRungs(await wrong(page, 'tension', 'T = m g'));
  // Every rung there is: units, a slip, a limiting case, hints, the worked step.
  await allRungs(await wrong(page, 'string-torque', 'tau_s = T/R'));
  await allRungs(await wrong(page, 'single-run', 'I = m R^2 (g - a)/a + tau_f R/a - tau_f R/a + 2 tau_f R (m g - m a)/(m a g - m a a)'));
  await allRungs(await wrong(page, 'ignore-friction', 'I_est = I + tau_f'));
  await field(await openStep(page, 'line')).fill('tau_s = I alpha + tau_f & more');
  const forces = await openStep(page, 'mass-forces');
  await arrows(forces, ['weight', 'pull of the string', 'force of motion', 'push of a surface']);
  await check(forces);
  await allRungs(forces);
  await arrows(await openStep(page, 'table-forces'), ['pull of the string', 'friction torque', 'torque of motion']);
  const graph = await openStep(page, 'graph');
  await graph.getByRole('radio').nth(1).check();
  await check(graph);
  await allRungs(graph);
  const told = await openStep(page, 'slope-intercept');
  await check(told);
  await allRungs(told);
  await page.locator('details.prelab-summary > summary').click();
  await prelab(page).locator('.card summary').click();
}

/** Answers far longer than any student should write, in as many places as show them. */
async function fillLong(page) {
  await solve(page, 'rim', `a_t = ${'a - a + '.repeat(12)}a`);
  await wrong(page, 'no-slip', `alpha = (${'a - a + '.repeat(12)}a)/2R`);
  await field(await openStep(page, 'line')).fill(`tau_s = ${'I alpha + '.repeat(20)}tau_f & something`);
  await field(await openStep(page, 'balance')).fill(`T = ${'(m g - m a)'.repeat(24)}/(${'g + a + '.repeat(20)}g)`);
  await field(await openStep(page, 'coast-down')).fill('averyveryverylongwordthatnobodywouldeverwriteasanamebutmaywellpastefromsomewhereelse');
  await check(await openStep(page, 'coast-down'));
  await page.waitForLoadState('networkidle');
}

async function wrong(page, id, text) {
  const place = await openStep(page, id);
  await answer(place, text);
  return place;
}

for (const [where, size] of Object.entries(SIZES)) {
  for (const colorScheme of ['light', 'dark']) {
    test(`axe-core finds nothing in the pre-lab with steps of every kind open ${where}, ${colorScheme}`, () =>
      during({ ...size, colorScheme }, async (page) => {
        await fill(page);
        assert.deepEqual(await violations(page), []);
      }));
  }
}

test('axe-core finds nothing on the choice of derivations, on a problem with one, and on the second one', () =>
  during({}, async (page) => {
    assert.deepEqual(await violations(page), []);
    await prelab(page).getByLabel('Begin a derivation from a file…').setInputFiles({ name: 'x.json', mimeType: 'application/json', buffer: Buffer.from('{') });
    await prelab(page).getByRole('alert').waitFor();
    assert.deepEqual(await violations(page), []);
    await begin(page, TWO_MASSES);
    for (const id of ['forces-heavier', 'acceleration', 'graph']) await openStep(page, id);
    assert.deepEqual(await violations(page), []);
  }));

for (const [where, options] of [...NARROW, ['on a phone', { viewport: { width: 360, height: 740 }, deviceScaleFactor: 2, hasTouch: true, isMobile: true }]]) {
  test(`the pre-lab does not scroll sideways ${where}, with long answers and all that is said to them`, () =>
    during(options, async (page) => {
      await begin(page);
      assert.deepEqual(await tooWide(page), { beyond: 0, wide: [] }, 'begun');
      await prelab(page).getByRole('button', { name: 'Put this pre-lab away' }).click();
      await fill(page);
      assert.deepEqual(await tooWide(page), { beyond: 0, wide: [] }, 'everything open');
      await fillLong(page);
      assert.deepEqual(await tooWide(page), { beyond: 0, wide: [] }, 'long answers');
    }));
}

test('the pre-lab does not scroll sideways when lines, words and letters are spaced wider', () =>
  during({ viewport: { width: 360, height: 740 } }, async (page) => {
    await fill(page);
    await fillLong(page);
    await wear(page, WIDER);
    assert.deepEqual(await tooWide(page), { beyond: 0, wide: [] });
  }));

/** Colors and sizes of what only lines and edges tell. */
const strokes = (page) => page.evaluate(() => {
  const color = (selector, property) => getComputedStyle(document.querySelector(selector))[property];
  return {
    ink: getComputedStyle(document.body).color,
    paper: getComputedStyle(document.body).backgroundColor,
    arrow: color('#step-mass-forces .force path', 'stroke'),
    body: color('#step-mass-forces .drawing .body', 'stroke'),
    curve: color('#step-graph .curve', 'stroke'),
    mark: color('#step-line .pointed mark', 'backgroundColor'),
  };
});

test('in forced colors the arrows, the sketches and the marked characters are still seen', () =>
  during({ forcedColors: 'active' }, async (page) => {
    await fill(page);
    const { ink, paper, mark, ...drawn } = await strokes(page);
    assert.notEqual(ink, paper);
    assert.deepEqual(drawn, { arrow: ink, body: ink, curve: ink });
    assert.notEqual(mark, paper);
  }));

test('with reduced motion the pre-lab works and nothing moves by itself', () =>
  during({ reducedMotion: 'reduce' }, async (page) => {
    await fill(page);
    const moving = await page.evaluate(() => document.getAnimations().map((animation) => animation.animationName ?? animation.transitionProperty));
    assert.deepEqual(moving, []);
  }));

test('every control of the pre-lab has a name, and every field says what was understood', () =>
  during({}, async (page) => {
    await fill(page);
    const nameless = await prelab(page).evaluate((section) =>
      [...section.querySelectorAll('button, input, select, summary')]
        .filter((control) => control.checkVisibility() && !control.hidden)
        .filter((control) => !(control.getAttribute('aria-label') ?? ([...(control.labels ?? [])].map((label) => label.textContent).join('') || control.textContent)).trim())
        .map((control) => control.outerHTML.slice(0, 80)));
    assert.deepEqual(nameless, []);
    const described = await field(await openStep(page, 'object')).evaluate((own) => document.getElementById(own.getAttribute('aria-describedby')).textContent);
    assert.match(described, /a moment of inertia \(kg·m²\)$/);
  }));

test('the focus is not lost when what had it goes away', () =>
  during({}, async (page) => {
    await tabTo(page, { kind: 'button', name: /^Begin: A turntable/ });
    await page.keyboard.press('Enter');
    await prelab(page).locator('ol.derivation').waitFor();
    const lost = [];
    if ((await focused(page)).kind === 'nothing') lost.push('after “Begin”');
    const place = await wrong(page, 'tension', 'T = m g');
    await place.locator('.rung').waitFor();
    await further(place).focus();
    for (let rung = 0; rung < 4; rung += 1) await page.keyboard.press('Enter');
    await place.locator('.rung').nth(4).waitFor();
    if ((await focused(page)).kind === 'nothing') lost.push('after the last rung');
    page.on('dialog', (dialog) => dialog.accept());
    await prelab(page).getByRole('button', { name: 'Put this pre-lab away' }).focus();
    await page.keyboard.press('Enter');
    await prelab(page).getByRole('button', { name: /^Begin: A turntable/ }).waitFor();
    if ((await focused(page)).kind === 'nothing') lost.push('after “Put this pre-lab away”');
    assert.deepEqual(lost, []);
  }));
