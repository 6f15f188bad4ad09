// Answers in algebra: shown as they are typed, put together from buttons, checked, explained, recorded.

import assert from 'node:assert/strict';
import { test } from 'node:test';

import { saveLab, visit } from './lab-page.mjs';
import { answer, begin, check, field, further, hears, openStep, plain, said, shape, solve, step, summary, words } from './prelab-page.mjs';
import { browser, host } from './session.mjs';

/** A visit with the turntable begun, that ends without an error. */
async function during(run, options) {
  const { page, context, errors } = await visit(browser, host, options);
  try {
    await begin(page);
    await run(page);
    assert.deepEqual(errors, []);
  } finally {
    await context.close();
  }
}

const understood = (place) => place.locator('.understood');
const kinds = async (place) => plain(await understood(place).locator('.hint').innerText());
const focusIsIn = (place) => field(place).evaluate((own) => document.activeElement === own);
/** The name of a symbol button: the symbol, then what it stands for. */
const called = (symbol, meaning) => new RegExp(`^${symbol}\\W+${meaning}`);
const cursor = (place) => field(place).evaluate((own) => [own.selectionStart, own.selectionEnd]);

test('an answer is set in mathematical notation while it is typed, with the kinds of both sides', () =>
  during(async (page) => {
    const place = await openStep(page, 'single-run');
    await field(place).click();
    const stages = [];
    for (const character of 'I = mR^2(g - a)/a - tau_f R/a') {
      await page.keyboard.type(character);
      stages.push(await words(understood(place)));
    }
    assert.deepEqual(stages.filter((stage) => stage === ''), [], 'something is said at every character');
    assert.equal(stages[0], 'Ia moment of inertia (kg·m²)');
    assert.equal(stages[4], 'I=mleft: a moment of inertia (kg·m²); right: a mass (kg)');
    const math = understood(place).locator('math');
    assert.equal(
      await shape(math),
      'mrow(mi:I mo:= mrow('
        + 'mrow(mfrac(mrow(mi:m mo: msup(mi:R mn:2) mo: mrow(mo:( mrow(mi:g mo:− mi:a) mo:))) mi:a))'
        + ' mo:− mrow(mfrac(mrow(msub(mi:τ mi:f) mo: mi:R) mi:a))))',
    );
    assert.equal(await math.evaluate((element) => element.namespaceURI), 'http://www.w3.org/1998/Math/MathML');
    assert.equal(await kinds(place), 'left: a moment of inertia (kg·m²); right: a moment of inertia (kg·m²)');
    // The fraction is laid out as one: its parts stand above each other.
    const heights = await math.locator('mfrac').first().evaluate((fraction) =>
      [...fraction.children].map((part) => part.getBoundingClientRect().top));
    assert.ok(heights[0] < heights[1], `${heights}`);
  }));

test('the spellings of a school keyboard are read as the same formula', () =>
  during(async (page) => {
    const place = await openStep(page, 'no-slip');
    for (const spelling of ['alpha=at/R', 'α = a_t / R', 'Alpha = aₜ÷R', 'ALPHA = (a_t)/[R]']) {
      await field(place).fill(spelling);
      const told = await shape(understood(place).locator('math'));
      assert.equal(told, 'mrow(mi:α mo:= mrow(mfrac(msub(mi:a mi:t) mi:R)))', spelling);
    }
  }));

for (const [what, typed, marked, before, expected] of [
  ['a character without a meaning', 'T = m g & a', '&', 'T = m g ', /“&” has no meaning here/],
  ['an unknown letter', 'T = m(g - b)', 'b', 'T = m(g - ', /There is no symbol “b” in this step/],
  ['a bracket that is never closed', 'T = m(g - a', '(', 'T = m', /never closed\. Expected a closing one/],
  ['a bracket that was never opened', 'T = m g) - m a', ')', 'T = m g', /No bracket was opened/],
  ['a second equals sign', 'T = m g = m a', '=', 'T = m g ', /Only one “=”/],
  ['a sign with nothing behind it', 'T = m g - ', '-', 'T = m g ', /Something is missing .* Expected a symbol, a number or an opening bracket/],
]) {
  test(`a typing error is marked where it is and says what was expected: ${what}`, () =>
    during(async (page) => {
      const place = await openStep(page, 'tension');
      await field(place).fill(typed);
      const pointed = understood(place).locator('.pointed');
      assert.equal(await pointed.evaluate((code) => code.textContent), typed);
      assert.equal(await pointed.locator('mark').evaluate((mark) => mark.textContent), marked);
      assert.equal(await pointed.evaluate((code) => code.firstChild.textContent), before);
      assert.match(await words(understood(place).locator('.hint')), expected);
      await check(place);
      await hears(place, 'This could not be read as it stands.');
      assert.match((await said(place)).at(-1), expected);
      assert.equal(await place.locator('.ladder mark').evaluate((mark) => mark.textContent), marked);
    }));
}

test('a symbol button puts its symbol in at the cursor or in place of what is selected, and a pointer leaves the focus in the field', () =>
  during(async (page) => {
    const place = await openStep(page, 'tension');
    const symbols = place.getByRole('group', { name: 'Put in a symbol' });
    await field(place).click();
    await page.keyboard.type('T = (g - a)');
    await field(place).evaluate((own) => own.setSelectionRange(4, 4));
    await symbols.getByRole('button', { name: called('m', 'hanging mass') }).click();
    assert.equal(await field(place).inputValue(), 'T = m (g - a)');
    assert.ok(await focusIsIn(place));
    assert.deepEqual(await cursor(place), [6, 6]);
    await page.keyboard.type('2*');
    assert.equal(await field(place).inputValue(), 'T = m 2*(g - a)');

    await field(place).evaluate((own) => own.setSelectionRange(6, 15));
    await symbols.getByRole('button', { name: called('g', 'acceleration of free fall') }).click();
    await symbols.getByRole('button', { name: 'minus' }).click();
    await symbols.getByRole('button', { name: 'squared' }).click();
    assert.equal(await field(place).inputValue(), 'T = m g  − ²');
    assert.ok(await focusIsIn(place));
    assert.match(await words(understood(place)), /^T = m g − ²Something is missing/);
  }));

test('the symbol buttons work by touch and by keyboard as well', () =>
  during(
    async (page) => {
      const place = await openStep(page, 'string-torque');
      const symbol = (name) => place.getByRole('group', { name: 'Put in a symbol' }).getByRole('button', { name });
      await field(place).tap();
      for (const name of [called('τ_s', 'torque of the string'), 'equals', called('R', 'radius of the drum'), called('T', 'tension of the string')]) await symbol(name).tap();
      assert.ok(await focusIsIn(place));
      assert.equal(await words(understood(place)), 'τs=RTleft: a torque (N·m); right: a torque (N·m)');
      await symbol('divided by').focus();
      await page.keyboard.press('Enter');
      assert.match(await field(place).inputValue(), /T ?\/$/);
      // By keyboard the focus stays, so that several can be put in one after the other.
      assert.ok(await symbol('divided by').evaluate((own) => document.activeElement === own));
    },
    { viewport: { width: 360, height: 740 }, hasTouch: true, isMobile: true },
  ));

test('each kind of wrong answer is met with its own kind of feedback, and none is accepted', () =>
  during(async (page) => {
    const place = await openStep(page, 'tension');
    for (const [wrong, mark, says] of [
      ['T = T', 'About the form.', 'Both sides are the same'],
      ['m g - T = m a', 'About the form.', 'This is right. Now solve it for T'],
      ['T = m(g - alpha R)', 'About the symbols.', 'this step asks for an answer without α'],
      ['T = m g - a', 'Look at the units.', 'Only quantities of the same kind can be added or subtracted'],
      ['T = m a', 'Not yet.', 'm a is the resultant of both forces'],
      ['T = 2m(g - a)', 'A limiting case.', 'so that a goes to 0'],
      ['T = m(g - 2a)', 'Try numbers.', 'The two have to be equal'],
    ]) {
      await answer(place, wrong);
      await hears(place, mark);
      const [first, ...others] = await said(place);
      const spaced = (text) => text.replace(/\s/g, '');
      assert.ok(spaced(first).includes(spaced(says)), `${wrong}: “${first}”`);
      assert.deepEqual(others, [], wrong);
    }
    assert.equal(await page.locator('.prelab .progress').innerText(), '0 of 15 steps done.');
    assert.equal((await summary(page)).get('The tension').checks, '7');
  }));

test('the same wrong answer checked again goes one rung down, another one begins at the top', () =>
  during(async (page) => {
    const place = await openStep(page, 'tension');
    await answer(place, 'T = m g');
    await hears(place, 'This makes the tension as large as the weight.');
    await check(place);
    await hears(place, 'your T comes to 0.491 N.');
    const two = await said(place);
    assert.equal(two.length, 2);
    assert.match(two[0], /as large as the weight/, 'what was said before stays');
    await answer(place, ' T = m g ');
    await hears(place, 'your T comes to 0.491 N.');
    assert.equal((await said(place)).length, 2, 'a hint is asked for, never given for checking again');
    assert.equal(await further(place).innerText(), 'Give me a hint');
    await answer(place, 'T = m a');
    await hears(place, 'The tension is only one of them.');
    assert.equal((await said(place)).length, 1);
    for (const name of ['Tell me more', 'Tell me more', 'Give me a hint', 'Give me a hint', 'Show me this step']) {
      assert.equal(await further(place).innerText(), name);
      await further(place).click();
    }
    assert.equal(await further(place).isVisible(), false);
    await check(place);
    await hears(place, 'The step worked out.');
    assert.equal((await said(place)).length, 6);
  }));

test('a right answer says what it means, changing it takes that away, and the step stays done', () =>
  during(async (page) => {
    const place = await solve(page, 'tension', 'mg(1 - a/g)');
    const meaning = 'Accepted. The tension is less than the weight by just what the mass needs to speed up. You never have to measure it: the acceleration tells it.';
    assert.deepEqual(await said(place), [meaning]);
    assert.match(await words(place.locator('summary').first()), /done$/);
    assert.equal(await page.locator('.prelab .progress').innerText(), '1 of 15 steps done.');
    await field(place).press('End');
    await page.keyboard.type(' + T');
    await page.waitForFunction(() => !document.querySelector('#step-tension .ladder .rung'));
    await check(place);
    await place.locator('.ladder .rung').first().waitFor();
    assert.doesNotMatch((await said(place)).join(), /Accepted/, 'the new answer is judged on its own');
    assert.equal((await summary(page)).get('The tension').answered, 'T=mg(1−ag)');
    assert.equal((await summary(page)).get('The tension').checks, '1');
    assert.match(await words(place.locator('summary').first()), /done$/);
  }));

test('“Go on” leads to the next step that is still to be done', () =>
  during(async (page) => {
    await solve(page, 'no-slip');
    const place = await solve(page, 'rim');
    await place.getByRole('button', { name: 'Go on: Newton’s second law for the mass' }).click();
    await step(page, 'balance').locator('p.ask').waitFor();
    assert.ok(await step(page, 'balance').locator('summary').first().evaluate((own) => document.activeElement === own));
  }));

test('the time of a step is what was spent on it, without long pauses', () =>
  during(async (page) => {
    const place = await openStep(page, 'rim');
    await page.clock.install();
    await field(place).press('a');
    const spent = async () => {
      const [, minutes, seconds] = /(\d+) min (\d\d) s/.exec((await summary(page)).get('The string ties two motions together').time);
      return 60 * Number(minutes) + Number(seconds);
    };
    const before = await spent();
    await page.clock.fastForward(42_000);
    await field(place).press('+');
    const worked = (await spent()) - before;
    assert.ok(worked >= 41 && worked <= 50, `${worked} s for 42 s of work`);
    await page.clock.fastForward(3_600_000);
    await field(place).press('a');
    const paused = (await spent()) - before - worked;
    assert.ok(paused <= 10, `${paused} s more for an hour away`);
    await page.clock.fastForward(30_000);
    await answer(place, 'a_t = a');
    const { prelab } = JSON.parse((await saveLab(page)).text);
    const { time_s: time } = prelab.steps.find((record) => record.step === 'rim');
    assert.ok(time >= 72 && time <= 95, `${time} s in the file for 72 s of work`);
    await page.clock.fastForward(50_000);
    await field(place).press('a');
    assert.ok((await spent()) <= Math.ceil(time), 'once it is accepted no more time is counted');
  }));

test('“Print the summary” prints the summary and nothing else of the lab', () =>
  during(async (page) => {
    await solve(page, 'tension');
    await summary(page);
    await page.emulateMedia({ media: 'print' });
    const printed = await page.evaluate(() => {
      let printed;
      window.print = () => { printed = document.body.innerText; };
      [...document.querySelectorAll('button')].find((button) => button.textContent === 'Print the summary').click();
      return printed;
    });
    const text = plain(printed);
    assert.match(text, /A turntable pulled round by a falling mass/);
    assert.match(text, /The tension 𝑇 = 𝑚 \( 𝑔 − 𝑎 \) 1 0/u);
    assert.match(text, /Why the line is better than one run/);
    assert.doesNotMatch(text, /drum radius|Save lab|none yet|Summary for your teacher|What the symbols stand for|Put this pre-lab away/);
    assert.equal(await page.evaluate(() => document.body.classList.contains('print-prelab')), false, 'afterwards everything is back');
  }));
