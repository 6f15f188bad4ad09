// Derivations as files: those that come with the page, a teacher's own, broken ones, hostile ones.

import assert from 'node:assert/strict';
import { readFile } from 'node:fs/promises';
import { test } from 'node:test';

import { dist } from './browser.mjs';
import { everythingShown, openAllDetails, openLab, ready, saveLab, stationState, visit } from './lab-page.mjs';
import { answer, asFile, begin, beginFrom, check, field, hears, openStep, prelab, said, solve, step, TWO_MASSES, words } from './prelab-page.mjs';
import { serve } from './serve.mjs';
import { browser, host } from './session.mjs';

const turntable = await readFile(new URL('../../web/derivations/turntable.json', import.meta.url), 'utf8');

/** A visit that ends without an error. */
async function during(run, at = host) {
  const { page, context, errors } = await visit(browser, at);
  try {
    await run(page);
    assert.deepEqual(errors, []);
  } finally {
    await context.close();
  }
}

/** A derivation of one step, as a teacher might begin. */
const spring = () => ({
  format: 'whorl-derivation',
  version: 1,
  id: 'spring',
  title: 'A spring pulled out',
  about: 'A spring hangs on a hook.',
  quantities: [{ name: 'a force', unit: 'N' }],
  symbols: [
    { symbol: 'F', means: 'force on the spring', unit: 'N', value: 2 },
    { symbol: 'D', means: 'stiffness of the spring', unit: 'N/m', value: 20 },
    { symbol: 's', means: 'how far it is pulled out', unit: 'm', value: 0.1 },
  ],
  steps: [{
    id: 'law',
    title: 'The law of the spring',
    ask: 'Write the force with the stiffness and the pull.',
    expression: {
      target: 'F',
      answer: 'D*s',
      slips: [{ id: 'divided', answers: ['D/s'], say: 'Twice the pull takes twice the force.' }],
    },
    hints: ['The force grows evenly with the pull.'],
    meaning: 'A stiff spring has a large $D$.',
  }],
});

const record = async (page) => JSON.parse((await saveLab(page)).text).prelab;
const alertOf = (page) => prelab(page).getByRole('alert');
const progress = (page) => page.locator('.prelab .progress').innerText();

/** Hears the page's questions and answers them all alike. */
function reply(page, yes) {
  const asked = [];
  page.removeAllListeners('dialog');
  page.on('dialog', (dialog) => {
    asked.push(`${dialog.type()}: ${dialog.message()}`);
    return yes ? dialog.accept() : dialog.dismiss();
  });
  return asked;
}

test('a derivation of one’s own is begun from a file, kept in the saved lab and there again when that is opened', () =>
  during(async (page) => {
    const text = JSON.stringify(spring(), null, 3);
    await beginFrom(page, asFile('spring.json', text));
    await prelab(page).getByRole('heading', { name: 'A spring pulled out' }).waitFor();
    const place = await openStep(page, 'law');
    await answer(place, 'F = D/s');
    await hears(place, 'Look at the units. Your right side is something in');
    await check(place);
    await hears(place, 'Twice the pull takes twice the force.');
    await answer(place, 's D');
    await hears(place, 'Accepted. A stiff spring has a large D.');
    assert.equal(await progress(page), 'Every step is done. Well derived!');
    const saved = await saveLab(page);
    const kept = JSON.parse(saved.text).prelab;
    assert.equal(kept.derivation, null);
    assert.equal(kept.own_file, text, 'to the letter');

    await page.reload();
    await ready(page);
    host.asked.length = 0;
    await openLab(page, asFile(saved.name, saved.text));
    await prelab(page).getByRole('heading', { name: 'A spring pulled out' }).waitFor();
    assert.equal(await progress(page), 'Every step is done. Well derived!');
    const again = await openStep(page, 'law');
    assert.equal(await field(again).inputValue(), 's D');
    assert.deepEqual(await said(again), ['Accepted. A stiff spring has a large D.']);
    assert.deepEqual(host.asked.filter((path) => path.startsWith('derivations/')), []);
    assert.equal((await saveLab(page)).text, saved.text);
  }));

const broken = (change) => {
  const derivation = spring();
  change(derivation);
  return JSON.stringify(derivation);
};

for (const [what, text, told] of [
  ['cut in the middle', JSON.stringify(spring(), null, 2).slice(0, 300), /mine\.json, line \d+, column \d+: .*Mend this place in the derivation file/],
  ['of another format', broken((all) => { all.format = 'recipe'; }), /not a derivation for Whorl .*“whorl-derivation”/],
  ['of a newer version', broken((all) => { all.version = 9; }), /newer Whorl \(version 9; .*Reload the page/],
  ['with a misspelled field', broken((all) => { all.steps[0].meening = all.steps[0].meaning; }), /at steps\[0\]\.meening: there is no such field; known are .*meaning/],
  ['without what a step asks', broken((all) => { delete all.steps[0].ask; }), /at steps\[0\]\.ask: text is missing here/],
  ['with a word for a number', broken((all) => { all.symbols[1].value = 'twenty'; }), /at symbols\[1\]\.value: expected a number/],
  ['with an unknown unit', broken((all) => { all.symbols[2].unit = 'ell'; }), /at symbols\[2\]\.unit: expected a unit of kg, m, s/],
  ['with an answer that cannot be read', broken((all) => { all.steps[0].expression.answer = 'D*('; }), /at steps\[0\]\.expression\.answer: character \d+: .*[Ee]xpected/],
  ['with the right answer among the wrong ones', broken((all) => { all.steps[0].expression.slips[0].answers = ['s*D']; }), /at steps\[0\]\.expression\.slips\[0\]\.answers\[0\]: this is the right answer/],
  ['with two tasks in one step', broken((all) => { all.steps[0].choice = []; }), /at steps\[0\]: expected exactly one of expression, choice, diagram/],
]) {
  test(`a derivation file ${what} is refused with its place and what was expected there, and nothing is lost`, () =>
    during(async (page) => {
      await page.getByLabel('Title of this lab').fill('My lab');
      await page.getByLabel('drum radius R', { exact: true }).fill('25');
      const before = await everythingShown(page);
      await beginFrom(page, asFile('mine.json', text));
      await alertOf(page).waitFor();
      assert.match(await words(alertOf(page)), told);
      assert.match(await words(alertOf(page)), /^! Not begun: mine\.json, /);
      await alertOf(page).evaluate((alert) => { alert.hidden = true; });
      assert.deepEqual(await everythingShown(page), before);
      await beginFrom(page, asFile('mine.json', spring()));
      await step(page, 'law').waitFor();
      assert.equal(await alertOf(page).count(), 0);
      assert.equal(await page.getByLabel('drum radius R', { exact: true }).inputValue(), '25');
    }));
}

test('a file that is not text is refused as a derivation', () =>
  during(async (page) => {
    await beginFrom(page, { name: 'photo.json', mimeType: 'application/json', buffer: Buffer.from([0xff, 0xfe, 0x00, 0x80]) });
    await alertOf(page).waitFor();
    assert.match(await words(alertOf(page)), /Not begun: photo\.json: this is not UTF-8 text\. Save the file as UTF-8\./);
  }));

test('the second derivation loads from its file, and its first step in algebra accepts a right answer and explains a wrong one', () =>
  during(async (page) => {
    await begin(page, TWO_MASSES);
    await prelab(page).getByRole('heading', { name: 'Two masses on one pulley' }).waitFor();
    assert.equal(await page.locator('.derivation > li').count(), 10);
    assert.equal(await progress(page), '0 of 9 steps done.');
    const place = await openStep(page, 'tension-heavier');
    await answer(place, 'T_1 = m_2(g - a)');
    await hears(place, 'The two masses seem to have traded places.');
    await answer(place, 'T1 = m1 g - a m1');
    await hears(place, 'Accepted.');
    assert.equal(await progress(page), '1 of 9 steps done.');
    assert.equal((await record(page)).derivation, 'two-masses');
  }));

test('“Put this pre-lab away” asks before it takes away what was entered', () =>
  during(async (page) => {
    const away = () => prelab(page).getByRole('button', { name: 'Put this pre-lab away and choose another' }).click();
    await begin(page);
    await solve(page, 'tension');
    const refused = reply(page, false);
    await away();
    assert.deepEqual(refused, ['confirm: This takes away everything entered in this pre-lab. Go on?']);
    assert.equal(await progress(page), '1 of 15 steps done.');
    const accepted = reply(page, true);
    await away();
    await prelab(page).getByRole('button', { name: `Begin: ${TWO_MASSES}` }).waitFor();
    assert.equal(accepted.length, 1);
    assert.ok(await stationState(page, 'Pre-lab', 'not begun').isVisible());
    assert.equal(await record(page), null);
    // With nothing entered there is nothing to ask about.
    const quiet = reply(page, true);
    await begin(page, TWO_MASSES);
    await away();
    await prelab(page).getByRole('button', { name: `Begin: ${TWO_MASSES}` }).waitFor();
    assert.deepEqual(quiet, []);
  }));

test('a derivation is fetched when it is begun, and the math font when a formula is first shown', async () => {
  const own = await serve(dist);
  const later = () => own.asked.filter((path) => /^(derivations|fonts)\//.test(path));
  try {
    await during(async (page) => {
      await page.waitForLoadState('networkidle');
      assert.deepEqual(later(), []);
      await beginFrom(page, asFile('spring.json', spring()));
      const place = await openStep(page, 'law');
      await field(place).focus();
      await page.waitForLoadState('networkidle');
      assert.deepEqual(later().filter((path) => path.startsWith('derivations/')), []);
      await field(place).fill('D s');
      await page.evaluate(() => document.fonts.ready);
      await page.waitForLoadState('networkidle');
      assert.deepEqual(later(), ['fonts/whorl-math.woff2']);
    }, own);
    own.asked.length = 0;
    await during(async (page) => {
      await begin(page);
      await page.waitForLoadState('networkidle');
      assert.deepEqual(later().sort(), ['derivations/turntable.json', 'fonts/whorl-math.woff2']);
    }, own);
  } finally {
    await own.close();
  }
});

test('a derivation that cannot be fetched is told about, and can be begun again', async () => {
  const { page, context } = await visit(browser, host);
  await page.route('**/derivations/turntable.json', (route) => route.abort());
  await prelab(page).getByRole('button', { name: 'Begin: A turntable' }).click();
  await alertOf(page).waitFor();
  assert.match(await words(alertOf(page)), /The derivation could not be fetched \(no answer\)\. Check the connection and try again\./);
  await page.unroute('**/derivations/turntable.json');
  await begin(page);
  assert.equal(await progress(page), '0 of 15 steps done.');
  await context.close();
});

/** A lab whose pre-lab this Whorl cannot show. */
async function labWith(page, prelab) {
  const lab = JSON.parse((await saveLab(page)).text);
  await openLab(page, asFile('lab.json', { ...lab, title: 'From elsewhere', prelab }));
  await alertOf(page).waitFor();
}

const STEPS = [{ step: 'law', entered: 'D s', accepted: 'D s', attempts: 4, hints: 1, worked: false, time_s: 12.5 }];

for (const [what, source, told] of [
  ['a derivation that this Whorl does not have', { derivation: 'pendulum', own_file: null }, /This Whorl has no derivation “pendulum”\. What was entered is kept\./],
  ['an address for a derivation', { derivation: '../samples/banding-wheel', own_file: null }, /This Whorl has no derivation “\.\.\/samples\/banding-wheel”/],
  ['a broken derivation of its own', { derivation: null, own_file: '{"format": "whorl-derivation", "version": 1}' }, /The derivation kept in this lab: at steps: a derivation needs|The derivation kept in this lab: at /],
]) {
  test(`a lab with ${what} opens, says so and keeps what was entered`, () =>
    during(async (page) => {
      host.asked.length = 0;
      await labWith(page, { ...source, steps: STEPS });
      assert.match(await words(alertOf(page)), told);
      assert.deepEqual(await record(page), { ...source, steps: STEPS });
      assert.deepEqual(host.asked.filter((path) => /samples|derivations/.test(path)), []);
      const asked = reply(page, false);
      await prelab(page).getByRole('button', { name: 'Put this pre-lab away and choose another' }).click();
      assert.equal(asked.length, 1);
      assert.deepEqual(await record(page), { ...source, steps: STEPS });
    }));
}

const EVIL = '<img src=x onerror="window.broken=1"><script>window.broken=1</script>';

test('whatever a derivation file says stays text: no tag in a name or a sentence comes alive', () =>
  during(async (page) => {
    const evil = spring();
    evil.title += EVIL;
    evil.about += EVIL;
    evil.quantities[0].name += EVIL;
    evil.symbols[1].means += EVIL;
    const [law] = evil.steps;
    for (const name of ['title', 'ask', 'meaning']) law[name] += EVIL;
    law.hints = [EVIL];
    law.worked = `So it is ${EVIL}`;
    law.expression.slips[0].say += EVIL;
    evil.steps.push({
      id: 'why',
      title: `Why ${EVIL}`,
      ask: EVIL,
      choice: [{ id: 'one', ask: EVIL, options: [
        { id: 'a', say: `a ${EVIL}`, feedback: EVIL, sketch: { x: EVIL, y: '$F$', curves: [[[0, 0], [1, 1]]] } },
        { id: 'b', say: `b ${EVIL}`, right: true },
      ] }],
      meaning: EVIL,
    });
    const turned = JSON.parse(turntable).steps[0];
    turned.diagram.forces[0].name = `weight ${EVIL}`;
    turned.diagram.places[0].name = EVIL;
    turned.diagram.scene.told = EVIL;
    turned.diagram.scene.shapes.push({ shape: 'words', x: 10, y: 10, text: EVIL });
    evil.steps.push({ ...turned, id: '"><img src=x onerror="window.broken=1">', title: EVIL });

    await beginFrom(page, asFile(`${EVIL.replaceAll('/', '')}.json`, '{'));
    await alertOf(page).waitFor();
    await beginFrom(page, asFile('evil.json', evil));
    const place = await openStep(page, 'law');
    await answer(place, 'F = D/s');
    for (const shown of [2, 3, 4]) {
      await place.locator('.ladder > button').click();
      await place.locator('.ladder .rung').nth(shown - 1).waitFor();
    }
    assert.match((await said(place)).join(' '), /<img src=x onerror="window\.broken=1"><script>/);
    await answer(place, 'D s');
    await hears(place, 'Accepted.');
    const why = await openStep(page, 'why');
    await why.getByLabel('a <img').check();
    await check(why);
    await hears(why, 'Not yet. <img');
    await openAllDetails(page);
    await page.getByRole('button', { name: 'Add an arrow' }).click();
    const shown = await prelab(page).evaluate((section) => section.textContent.split('<img src=x onerror="window.broken=1"><script>').length - 1);
    assert.ok(shown >= 18, `the text is shown as text ${shown} times`);
    assert.equal(await page.evaluate(() => document.querySelectorAll('main img, main script, main [onerror]').length), 0);
    assert.equal(await page.evaluate(() => window.broken), undefined);
    // Opened again from a saved lab, it is as harmless.
    const saved = await saveLab(page);
    await page.reload();
    await ready(page);
    await openLab(page, asFile(saved.name, saved.text));
    await openStep(page, 'law');
    assert.equal(await page.evaluate(() => document.querySelectorAll('main img, main script, main [onerror]').length), 0);
    assert.equal(await page.evaluate(() => window.broken), undefined);
  }));
