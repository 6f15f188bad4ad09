// A student derives the equations by keyboard alone, with the mistakes that students make, and finds
// everything again in the saved lab.

import assert from 'node:assert/strict';
import { readFile } from 'node:fs/promises';
import { test } from 'node:test';

import { choose, focusMovesTo, focused, pick, tabBackTo, tabTo } from './keys.mjs';
import { news, ready, stationState, textOf, visit } from './lab-page.mjs';
import { asFile, hears, plain, RIGHT, step, summary, TURNTABLE, words } from './prelab-page.mjs';
import { browser, host } from './session.mjs';

const derivation = JSON.parse(await readFile(new URL('../../web/derivations/turntable.json', import.meta.url), 'utf8'));
const { steps } = derivation;

/** Goes from wherever the focus is in the step to its field, writes an answer and checks it by Enter. */
async function write(page, id, text) {
  const { kind, step: now } = await focused(page);
  if (kind === 'summary') await tabTo(page, { kind: 'text', name: 'Your answer', step: id });
  else if (kind !== 'text' || now !== id) await tabBackTo(page, { kind: 'text', name: 'Your answer', step: id });
  await page.keyboard.press('ControlOrMeta+a');
  await page.keyboard.type(text);
  await page.keyboard.press('Enter');
}

/** The last thing said in a step is this. */
const hear = (page, id, expected) => hears(step(page, id), expected);

/** Presses the button that leads one rung down; it has to bear this name. */
async function askFurther(page, id, name) {
  const { name: now } = await focused(page);
  if (now !== name) await tabTo(page, { kind: 'button', name, step: id });
  await page.keyboard.press('Enter');
}

/** The step is accepted, and “Go on” leads to the next one. */
async function goOn(page, id, next) {
  await step(page, id).locator('.rung.right').waitFor();
  const meaning = plain(steps.find((one) => one.id === id).meaning.split(/[$.]/)[0]);
  assert.ok((await words(step(page, id).locator('.rung.right'))).includes(meaning), `“${id}” says what it means`);
  if (!next) {
    assert.equal(await step(page, id).getByRole('button', { name: /^Go on/ }).count(), 0);
    return;
  }
  const title = steps.find((one) => one.id === next).title;
  await tabTo(page, { kind: 'button', name: `Go on: ${title}`, step: id });
  await page.keyboard.press('Enter');
  await focusMovesTo(page, { kind: 'summary', step: next });
  await step(page, next).locator('p.ask').waitFor();
}

/** Adds an arrow in the list and sets what differs from how it comes. */
async function addArrow(page, id, number, { force, at, direction, length }) {
  await tabTo(page, { kind: 'button', name: 'Add an arrow', step: id });
  await page.keyboard.press('Enter');
  const group = new RegExp(`^Arrow ${number}:`);
  await focusMovesTo(page, { kind: 'select', name: 'Force', group });
  await pick(page, force);
  for (const [name, value] of [['Starts at', at], ['Direction', direction], ['Length', length]]) {
    await tabTo(page, { kind: 'select', name, group }, 1);
    if (value) await pick(page, value);
  }
}

/** Presses “Check” of a step that is no form. */
async function pressCheck(page, id) {
  await tabTo(page, { kind: 'button', name: 'Check', step: id });
  await page.keyboard.press('Enter');
}

const shownOption = (option) => plain(option.say.replace(/\$([^$]*)\$/g, (_, math) => ({ tau_f: 'τf', tau_s: 'τs' })[math] ?? math));

/** Chooses the right option of every question, or another where one is given. */
async function chooseAll(page, id, instead = {}) {
  for (const question of steps.find((one) => one.id === id).choice) {
    const wanted = instead[question.id];
    const option = question.options.find((one) => (wanted ? one.id === wanted : one.right));
    const words = question.ask.replace(/\$tau_s\$/g, 'τs');
    await choose(page, words, shownOption(option));
  }
  await pressCheck(page, id);
}

/** Algebra that is right at once. */
async function solve(page, id, next) {
  await write(page, id, RIGHT[id]);
  await goOn(page, id, next);
}

async function massForces(page) {
  const id = 'mass-forces';
  await addArrow(page, id, 1, { force: 'weight', at: 'the middle of the mass', direction: 'down', length: '4' });
  await addArrow(page, id, 2, { force: 'pull of the string', at: 'the top, where the string is tied', direction: 'up', length: '4' });
  await pressCheck(page, id);
  await hear(page, id, 'With these lengths the mass would not speed up downward. Which arrow has to be the shorter one?');
  await tabBackTo(page, { kind: 'select', name: 'Length', group: /^Arrow 2:/ });
  await pick(page, '2');
  await pressCheck(page, id);
  await goOn(page, id, 'rim');
}

async function noSlip(page) {
  const id = 'no-slip';
  await write(page, id, 'alpha = a R');
  await hear(page, id, 'Your right side is something in m²/s²; your left side is an angular acceleration (rad/s²).');
  await askFurther(page, id, 'Tell me more');
  await hear(page, id, 'The radius stands on the wrong side of the fraction line.');
  await solve(page, id, 'balance');
}

/** Two mistakes, and the whole ladder down to the worked step. */
async function tension(page) {
  const id = 'tension';
  await write(page, id, 'T = m g');
  await hear(page, id, 'This makes the tension as large as the weight.');
  await write(page, id, 'T = m(g + a)');
  await hear(page, id, 'Check the sign in front of a.');
  await askFurther(page, id, 'Tell me more');
  await hear(page, id, 'your T comes to 0.511 N. Then the resultant force mg−T is −0.0200 N, but ma is 0.0200 N.');
  await askFurther(page, id, 'Give me a hint');
  await hear(page, id, 'Bring T to one side and everything else to the other');
  await askFurther(page, id, 'Give me a hint');
  await hear(page, id, 'add T on both sides');
  await askFurther(page, id, 'Show me this step');
  await hear(page, id, 'which is the same as T=m(g−a).');
  await write(page, id, RIGHT[id]);
  await goOn(page, id, 'table-forces');
}

async function tableForces(page) {
  const id = 'table-forces';
  await addArrow(page, id, 1, { force: 'pull of the string', at: 'where the string leaves the drum', direction: 'up' });
  await addArrow(page, id, 2, { force: 'friction torque', at: 'the axis', direction: 'clockwise' });
  await pressCheck(page, id);
  await goOn(page, id, 'string-torque');
}

async function stringTorque(page) {
  const id = 'string-torque';
  await write(page, id, 'tau_s = T/R');
  await hear(page, id, 'Your right side is something in kg/s²; your left side is a torque (N·m).');
  await solve(page, id, 'rotation');
}

async function rotation(page) {
  const id = 'rotation';
  await write(page, id, 'tau_s + tau_f = I alpha');
  await hear(page, id, 'Here friction helps the string. Which way does it act on a turning table?');
  await solve(page, id, 'line');
}

async function line(page) {
  const id = 'line';
  await write(page, id, 'tau_s = I a + tau_f');
  await hear(page, id, 'is something in kg·m³/s², but τf is a torque (N·m). Only quantities of the same kind can be added or subtracted.');
  await askFurther(page, id, 'Tell me more');
  await hear(page, id, 'A moment of inertia belongs together with an angular acceleration.');
  await solve(page, id, 'slope-intercept');
}

async function slopeIntercept(page) {
  const id = 'slope-intercept';
  await chooseAll(page, id, { intercept: 'I' });
  await hear(page, id, 'That is the intercept taken for the slope. At the intercept α is zero: which term is left?');
  await tabBackTo(page, { kind: 'radio', group: /^Which quantity is the intercept/ });
  await page.keyboard.press('ArrowDown');
  await pressCheck(page, id);
  await goOn(page, id, 'graph');
}

/** Begins, and works through all twenty steps. */
async function derive(page) {
  await tabTo(page, { kind: 'button', name: `Begin: ${TURNTABLE}` });
  await page.keyboard.press('Enter');
  await step(page, 'mass-forces').waitFor();
  await tabTo(page, { kind: 'summary', step: 'mass-forces' });
  await page.keyboard.press('Enter');
  await step(page, 'mass-forces').locator('p.ask').waitFor();
  await massForces(page);
  await solve(page, 'rim', 'no-slip');
  await noSlip(page);
  await solve(page, 'balance', 'tension');
  await tension(page);
  await tableForces(page);
  await stringTorque(page);
  await rotation(page);
  await line(page);
  await slopeIntercept(page);
  await chooseAll(page, 'graph');
  await goOn(page, 'graph', 'object');
  await solve(page, 'object', 'why-subtract');
  await chooseAll(page, 'why-subtract');
  await goOn(page, 'why-subtract', 'ignore-friction');
  await solve(page, 'ignore-friction', 'friction-verdict');
  await chooseAll(page, 'friction-verdict');
  await goOn(page, 'friction-verdict', 'pulley');
  await solve(page, 'pulley', 'string-thickness');
  await solve(page, 'string-thickness', 'coast-down');
  await solve(page, 'coast-down', 'single-run');
  await solve(page, 'single-run', 'why-line');
  await chooseAll(page, 'why-line');
  await goOn(page, 'why-line');
}

/** Opens the teacher's summary by keyboard; a row of cells for each step. */
async function openSummary(page, find) {
  await find(page, { kind: 'summary', name: 'Summary for your teacher' }, 900);
  await page.keyboard.press('Enter');
  await page.locator('details.prelab-summary[open] tbody').waitFor();
  return summary(page);
}

/** What each field of an answered step holds, by the step's id. */
function entries(page) {
  return page.locator('.derivation > li').evaluateAll((list) => list.map((item) => {
    const value = (control) => (control.type === 'radio' ? control.checked : control.selectedOptions?.[0].textContent ?? control.value);
    return [item.id, ...[...item.querySelectorAll('.algebra input, .question input, .arrow-row select')].map(value)];
  }));
}

const checked = ({ checks, hints }) => `${checks} checks, ${hints} hints`;
const seconds = ({ time }) => {
  const [, minutes, rest] = /^(\d+) min (\d\d) s$/.exec(time);
  return 60 * Number(minutes) + Number(rest);
};

test('a student derives everything by keyboard alone, hears why each mistake is wrong, and finds it again in the saved lab', async (t) => {
  const { page, context, errors } = await visit(browser, host);
  await derive(page);
  assert.equal(await page.locator('.prelab .progress').innerText(), 'Every step is done. Well derived!');
  assert.ok(await stationState(page, 'Pre-lab', '15 of 15 steps').isVisible());

  const before = await openSummary(page, tabTo);
  assert.equal(before.size, steps.length);
  const told = Object.fromEntries(steps.map(({ id, title }) => [id, checked(before.get(title))]));
  const atOnce = '1 checks, 0 hints';
  assert.deepEqual(told, {
    ...Object.fromEntries(steps.map(({ id }) => [id, atOnce])),
    'mass-forces': '2 checks, 0 hints',
    'no-slip': '2 checks, 0 hints',
    'tension': '3 checks, 2, and the worked step hints',
    'string-torque': '2 checks, 0 hints',
    'rotation': '2 checks, 0 hints',
    'line': '2 checks, 0 hints',
    'slope-intercept': '2 checks, 0 hints',
  });
  assert.equal(before.get('The tension').answered, 'T=m(g−a)');
  assert.equal(before.get('The object alone').answered, 'Iobject=Iloaded−Iempty');
  assert.equal(before.get('Forces on the falling mass').answered, 'diagram accepted');
  assert.equal(before.get('What the line tells').answered, 'all answered');
  const spent = [...before.values()].map(seconds);
  const all = spent.reduce((sum, one) => sum + one, 0);
  t.diagnostic(`the derivation took ${all} s by its own clock`);
  assert.ok(all > 0, 'some time was spent');
  const entered = await entries(page);
  assert.equal(entered.filter((step) => step.length > 1).length, steps.length);

  // On through the page and round to its top.
  await tabTo(page, { kind: 'button', name: 'Save lab' }, 200);
  const [download] = await Promise.all([page.waitForEvent('download'), page.keyboard.press('Enter')]);
  const text = await textOf(download);
  inTheFile(JSON.parse(text), before);

  await page.reload();
  await ready(page);
  const [picker] = await Promise.all([
    page.waitForEvent('filechooser'),
    tabTo(page, { kind: 'file', name: 'Open lab…' }).then(() => page.keyboard.press('Enter')),
  ]);
  await picker.setFiles(asFile(download.suggestedFilename(), text));
  await news(page).filter({ hasText: 'Opened' }).waitFor();
  await page.locator('ol.derivation').waitFor();
  assert.equal(await page.locator('.prelab .progress').innerText(), 'Every step is done. Well derived!');
  assert.deepEqual([...(await openSummary(page, tabTo))], [...before]);
  for (const { id, title } of [...steps].reverse()) {
    await tabBackTo(page, { kind: 'summary', step: id, name: new RegExp(title) }, 120);
    await page.keyboard.press('Enter');
    await step(page, id).locator('p.ask').waitFor();
  }
  assert.deepEqual(await entries(page), entered);
  await hears(step(page, 'tension'), 'Accepted. The tension is less than the weight by just what the mass needs to speed up.');
  assert.deepEqual(errors, []);
  await context.close();
});

/** The saved lab holds what the student did. */
function inTheFile({ prelab }, summary) {
  assert.equal(prelab.derivation, 'turntable');
  assert.equal(prelab.own_file, null);
  assert.deepEqual(prelab.steps.map((record) => record.step), steps.map(({ id }) => id));
  for (const record of prelab.steps) {
    const { title, optional } = steps.find(({ id }) => id === record.step);
    const row = summary.get(title);
    assert.ok(record.accepted, `${record.step}${optional ? ', which goes deeper,' : ''} has an accepted answer`);
    assert.equal(record.entered, record.accepted);
    assert.equal(String(record.attempts), row.checks);
    assert.equal(Math.round(record.time_s), seconds(row));
    assert.ok(record.time_s >= 0 && record.time_s < 60, `${record.step} took ${record.time_s} s`);
  }
  const of = (id) => prelab.steps.find((record) => record.step === id);
  const { attempts, hints, worked, accepted } = of('tension');
  assert.deepEqual({ attempts, hints, worked, accepted }, { attempts: 3, hints: 2, worked: true, accepted: RIGHT.tension });
  assert.deepEqual(JSON.parse(of('mass-forces').accepted), [
    { force: 'weight', at: 'middle', direction: 'down', length: 4 },
    { force: 'tension', at: 'top', direction: 'up', length: 2 },
  ]);
  assert.deepEqual(JSON.parse(of('slope-intercept').accepted), { 'slope': 'I', 'intercept': 'tau_f', 'slope-unit': 'kgm2', 'intercept-unit': 'Nm' });
}
