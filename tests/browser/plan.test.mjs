// The plan before the first run: which masses to hang and what they should show.

import assert from 'node:assert/strict';
import { test } from 'node:test';

import { NARROW, SIZES, tooWide, violations } from './inspection.mjs';
import { measure, news, openAllDetails, openExample, openLab, painted, ready, result, saveLab, si, station, visit } from './lab-page.mjs';
import { browser, host } from './session.mjs';

const MASSES = '20 g ×2, 50, 100 ×2, 200';

/** The example lab with the plan opened, in a visit that ends without an error. */
async function during(run, options = {}) {
  const { page, context, errors } = await visit(browser, host, options);
  try {
    await openExample(page);
    await openPlan(page);
    await run(page);
    assert.deepEqual(errors, []);
  } finally {
    await context.close();
  }
}

const runs = (page) => station(page, 'Runs');
const panel = (page) => runs(page).locator('details.plan');
const field = (page, words) => panel(page).getByLabel(words, { exact: true });
const owned = (page) => field(page, 'masses you own');
/** What the plan comes to, or what keeps it. */
const state = (page) => panel(page).locator('div.told');

async function openPlan(page) {
  await runs(page).getByText('Plan which masses to hang').click();
  await owned(page).waitFor();
}

async function enterHeight(page, height = '850') {
  await station(page, 'Apparatus').getByText('Drop height, a heavy pulley, uncertain masses').click();
  await measure(station(page, 'Apparatus'), 'drop height', 'h', height, '2');
}

/** Everything a plan needs, typed. */
async function fill(page) {
  await enterHeight(page);
  await owned(page).fill(MASSES);
  await field(page, 'guess: moment of inertia of the empty table I').fill('1.5');
  await field(page, 'guess: friction torque, empty table').fill('1.0');
  await field(page, 'guess: friction torque, loaded table').fill('1.4');
  await state(page).filter({ hasText: 'Planned:' }).waitFor();
}

/** The rows of a table of masses: each cell's text. */
async function planned(page, name) {
  const table = panel(page).getByRole('region', { name: `Table: masses to hang, ${name}` });
  return table.locator('tbody tr').evaluateAll((all) => all.map((row) => [...row.cells].map((cell) => cell.innerText.replace(/\s/g, ' '))));
}

/** The moment of inertia that an expected uncertainty belongs to. */
async function about(page, name) {
  const [, moment] = /of about (.*?) \(/.exec((await result(panel(page), name)).replace(/\s/g, ' '));
  return si(moment);
}

const grams = (text) => text.split(', ').flatMap((piece) => {
  const [, mass, count] = /^([\d.]+) g(?: × (\d+))?$/.exec(piece) ?? assert.fail(piece);
  return Array(Number(count ?? 1)).fill(Number(mass));
});

test('the plan names as many masses as asked for, each made of the pieces that there are', () =>
  during(async (page) => {
    await fill(page);
    for (const table of ['empty table', 'with slate disc']) {
      const rows = await planned(page, table);
      assert.equal(rows.length, 6, table);
      for (const [mass, madeOf, a, u, fall, speed, spokes] of rows) {
        const pieces = grams(madeOf);
        const sum = pieces.reduce((total, piece) => total + piece, 0);
        assert.ok(Math.abs(sum - Number.parseFloat(mass)) < 1e-9, `${mass} of ${madeOf}`);
        const left = [20, 20, 50, 100, 100, 200];
        for (const piece of pieces) {
          assert.ok(left.includes(piece), `${madeOf} of ${MASSES}`);
          left.splice(left.indexOf(piece), 1);
        }
        for (const [text, unit] of [[a, 'm/s²'], [u, '%'], [fall, 's'], [speed, 'm/s']]) assert.match(text, new RegExp(`^[\\d.]+ ${unit}$`));
        // From rest: h = v t / 2, to the two digits shown.
        const height = (Number.parseFloat(speed) * Number.parseFloat(fall)) / 2;
        assert.ok(Math.abs(height / 0.85 - 1) < 0.08, `${speed} after ${fall}`);
        assert.equal(Number(spokes), 57);
      }
      assert.equal(new Set(rows.map((row) => row[0])).size, 6, 'no mass twice while there are others');
    }
    await field(page, 'runs of each table').fill('4');
    await state(page).filter({ hasText: 'Planned: 4 runs' }).waitFor();
    assert.equal((await planned(page, 'empty table')).length, 4);
    assert.equal((await planned(page, 'with slate disc')).length, 4);
  }));

test('a mass is predicted as worked by hand', () =>
  during(async (page) => {
    await fill(page);
    // The lightest is always an end of the line.
    await owned(page).fill('50, 60, 70');
    await field(page, 'runs of each table').fill('3');
    await state(page).filter({ hasText: 'Planned: 3 runs' }).waitFor();
    const row = (await planned(page, 'empty table')).find(([mass]) => mass === '50 g');
    // 0.05 · 9.81 · 0.0255 N·m less 1 mN·m, over 1.5e-3/0.0255 + 0.05 · 0.0255 kg·m: 0.19148 m/s².
    assert.equal(row[2], '0.191 m/s²');
    assert.equal(row[4], '3 s');
    assert.equal(row[5], '0.57 m/s');
    // Half of 1.402 kg · (0.1 m)².
    assert.ok(Math.abs((await about(page, 'slate disc')) - 7.01e-3) < 1e-9);
    assert.ok(Math.abs((await about(page, 'empty table')) - 1.5e-3) < 1e-9);
  }));

test('other masses make another plan, and so does another object', () =>
  during(async (page) => {
    await fill(page);
    const before = await planned(page, 'with slate disc');
    await owned(page).fill('10 × 2, 30 × 2, 70, 150');
    await panel(page).getByText('150 g').first().waitFor();
    const after = await planned(page, 'with slate disc');
    assert.notDeepEqual(after, before);
    assert.equal(after.length, 6);
    await field(page, 'object to plan for').selectOption({ label: 'brass ring' });
    await state(page).filter({ hasText: 'brass ring' }).waitFor();
    assert.equal((await planned(page, 'with brass ring')).length, 6);
    // Half of 1.105 kg · (0.06² + 0.075²) m².
    assert.ok(Math.abs((await about(page, 'brass ring')) - 5.097e-3) < 1e-6);
  }));

test('what cannot be read is refused at its field, and no plan stands there meanwhile', () =>
  during(async (page) => {
    await fill(page);
    const note = async (input) => page.locator(`#${await input.getAttribute('aria-describedby')} .problem`).innerText();
    for (const [words, wrong, told, right] of [
      ['masses you own', '20, fifty', /mass 2, “fifty”.*write it like/, MASSES],
      ['mass of the holder', '-5', /enter 0 or more/, '5'],
      ['runs of each table', '2', /whole number from 3 to 12/, '3'],
      ['runs of each table', '13', /whole number from 3 to 12/, '12'],
      ['runs of each table', '5.5', /whole number from 3 to 12/, '5'],
      ['guess: friction torque, loaded table', '2 kg', /“kg” is not a unit for this; use mN·m/, '0.0015 N·m'],
    ]) {
      await field(page, words).fill(wrong);
      assert.match(await note(field(page, words)), told);
      assert.equal(await field(page, words).getAttribute('aria-invalid'), 'true');
      assert.match(await state(page).innerText(), /First put right what is marked/);
      assert.equal(await panel(page).getByRole('table').first().isVisible(), false, `${words}: ${wrong}`);
      await field(page, words).fill(right);
      await state(page).filter({ hasText: 'Planned:' }).waitFor();
      assert.equal(await field(page, words).getAttribute('aria-invalid'), null);
    }
    // With a holder, it hangs in every run.
    const rows = await planned(page, 'empty table');
    for (const [mass, madeOf] of rows) {
      const pieces = grams(madeOf.replace(' and holder', '')).reduce((total, piece) => total + piece, 0);
      assert.ok(madeOf.endsWith(' and holder') && Math.abs(pieces + 5 - Number.parseFloat(mass)) < 1e-9, `${mass}: ${madeOf}`);
    }
  }));

test('what is missing is named, with the way to it', () =>
  during(async (page) => {
    assert.match(await state(page).innerText(), /Enter the masses you own/);
    assert.match(await state(page).innerText(), /needs the drop height/);
    await panel(page).getByRole('button', { name: 'Go to the drop height' }).click();
    const height = station(page, 'Apparatus').getByLabel('drop height h', { exact: true });
    await height.waitFor();
    assert.ok(await height.isVisible());
    await height.fill('850');
    await state(page).filter({ hasText: 'Guess the empty table’s moment of inertia' }).waitFor();
    await field(page, 'guess: moment of inertia of the empty table I').fill('0.0015 kg·m²');
    await state(page).filter({ hasText: 'Guess the friction torque' }).waitFor();
    await field(page, 'guess: friction torque, empty table').fill('1');
    await owned(page).fill('1, 1, 2');
    await state(page).filter({ hasText: 'Empty table: only 0 of the masses' }).waitFor();
    assert.match(await state(page).innerText(), /add heavier pieces/);
    assert.equal(await panel(page).getByRole('table').first().isVisible(), false);
  }));

test('the result is told with its parts, its reasons, its budget and its cautions', () =>
  during(async (page) => {
    await fill(page);
    const told = (await result(panel(page), 'slate disc')).replace(/\s/g, ' ');
    const [, all, scatter, shared] = /; ([\d.]+) % of I: ([\d.]+) % scatter, ([\d.]+) % shared/.exec(told).map(Number);
    assert.ok(Math.abs(Math.hypot(scatter, shared) / all - 1) < 0.02, told);
    // The same in kg·m², by both numbers' rounding.
    const share = (100 * si(told)) / (await about(page, 'slate disc'));
    assert.ok(Math.abs(share / all - 1) < 0.04, `${share} % against ${told}`);
    const text = await panel(page).innerText();
    const gain = Number(/evenly spaced masses .* be ([\d.]+) times as large/.exec(text)?.[1]);
    assert.ok(gain > 1.05 && gain < 3, `${gain}`);
    assert.match(text, /The farther apart the points lie/);
    assert.match(text, /a soft pad where it lands/);
    assert.match(text, /your school’s rules and your instructor/);
    await panel(page).getByText('Where the uncertainty will come from').click();
    const budget = panel(page).getByRole('region', { name: 'Table: uncertainty budget of slate disc, planned' });
    await budget.waitFor();
    const shares = await budget.locator('tbody tr').evaluateAll((all) => all.map((row) => Number.parseFloat(row.cells[2].innerText.replace('below', ''))));
    assert.ok(Math.abs(shares.reduce((sum, share) => sum + share, 0) - 100) < 2, `${shares}`);
    await panel(page).getByText('Masses that do not suit, and why').click();
    const unfit = panel(page).getByRole('listitem').filter({ hasText: /lands at more than 1\.5 m\/s|takes less than 1 s/ });
    assert.match(await unfit.first().innerText(), /^Empty table, .*\d\sg.*: the /);
  }));

test('the chart is painted and told in numbers', () =>
  during(async (page) => {
    await fill(page);
    const chart = panel(page).getByRole('figure');
    await chart.scrollIntoViewIfNeeded();
    assert.match(await chart.getByRole('img').getAttribute('aria-label'), /Planned runs/);
    const { share, colors } = await painted(chart.getByRole('img'));
    assert.ok(share > 0.005 && colors > 8);
    await chart.getByText('This chart in words and numbers').click();
    const rows = chart.locator('tbody tr');
    await rows.first().waitFor();
    assert.ok((await rows.count()) >= 12, `${await rows.count()} rows for twelve runs`);
  }));

test('a plan survives saving and opening', () =>
  during(async (page) => {
    await fill(page);
    await owned(page).fill('20.55 g × 2, 50, 100 × 2, 200');
    await field(page, 'mass of the holder').fill('5');
    await field(page, 'runs of each table').fill('5');
    await state(page).filter({ hasText: 'Planned: 5 runs' }).waitFor();
    const before = await planned(page, 'with slate disc');
    const saved = await saveLab(page);
    assert.deepEqual(JSON.parse(saved.text).plan, {
      pieces_kg: [0.02055, 0.02055, 0.05, 0.1, 0.1, 0.2],
      holder_kg: 0.005,
      runs: 5,
      table_inertia_kg_m2: 0.0015,
      friction_empty_n_m: 0.001,
      friction_loaded_n_m: 0.0014,
    });
    await page.reload();
    await ready(page);
    await openLab(page, { name: saved.name, mimeType: 'application/json', buffer: Buffer.from(saved.text) });
    await news(page).filter({ hasText: '23 runs' }).waitFor();
    await openPlan(page);
    await state(page).filter({ hasText: 'Planned: 5 runs' }).waitFor();
    assert.deepEqual(await planned(page, 'with slate disc'), before);
    assert.equal((await owned(page).inputValue()).replace(/\s/g, ' '), '20.55 g × 2, 50 g, 100 g × 2, 200 g');
    assert.equal((await saveLab(page)).text, saved.text);
  }));

test('typing elsewhere leaves the plan as it stands', () =>
  during(async (page) => {
    await fill(page);
    await panel(page).locator('tbody tr').first().evaluate((row) => row.setAttribute('data-same', ''));
    await page.getByLabel('Title of this lab').fill('Another title');
    await page.getByLabel('Title of this lab').blur();
    await page.getByLabel('hanging mass of empty, 15 g').fill('15.1');
    assert.equal(await panel(page).locator('tr[data-same]').count(), 1);
    // What it needs makes a new one.
    await measure(station(page, 'Apparatus'), 'drop height', 'h', '800');
    await panel(page).locator('tr[data-same]').waitFor({ state: 'detached' });
  }));

for (const [where, size] of Object.entries(SIZES)) {
  for (const colorScheme of ['light', 'dark']) {
    test(`axe-core finds nothing on a plan ${where}, ${colorScheme}`, () =>
      during(async (page) => {
        await fill(page);
        await openAllDetails(page);
        assert.deepEqual(await violations(page), []);
        await owned(page).fill('fifty');
        assert.deepEqual(await violations(page), [], 'with a mistake');
      }, { ...size, colorScheme }));
  }
}

for (const [where, options] of NARROW) {
  test(`a plan does not make the page scroll sideways ${where}`, () =>
    during(async (page) => {
      await fill(page);
      assert.deepEqual(await tooWide(page), { beyond: 0, wide: [] });
      await openAllDetails(page);
      assert.deepEqual(await tooWide(page), { beyond: 0, wide: [] }, 'everything open');
    }, options));
}
