// Work that an instructor sets: made on the page, handed on as a link, a file or a snippet, and opened by students.

import assert from 'node:assert/strict';
import { createServer } from 'node:http';
import { test } from 'node:test';

import { listenForErrors } from './browser.mjs';
import { NARROW, SIZES, tooWide, violations } from './inspection.mjs';
import { NOTHING_IS_KEPT, kept, openLab, problem, ready, saveLab, station, textOf, visit } from './lab-page.mjs';
import { browser, host } from './session.mjs';

const LAPTOP = { viewport: { width: 1366, height: 768 } };
const COPYING = { ...LAPTOP, permissions: ['clipboard-read', 'clipboard-write'] };

/** The place where work is set. */
async function setting(options = COPYING) {
  const { page, context, errors } = await visit(browser, host, options);
  await page.getByRole('link', { name: 'For instructors: set this work' }).click();
  const place = page.getByRole('region', { name: 'Set this work' });
  await place.waitFor();
  return { page, context, errors, place };
}

/** The page of a student who follows an address. */
async function follow(address, options = LAPTOP) {
  const context = await browser.newContext(options);
  const page = await context.newPage();
  const errors = listenForErrors(page);
  await page.goto(address);
  await ready(page).catch(() => {});
  return { page, context, errors };
}

const choose = (place, name, label) => place.getByRole('combobox', { name, exact: true }).selectOption({ label });
const fill = (place, name, text) => place.getByRole('textbox', { name, exact: true }).fill(text);
const linkOf = (place) => place.getByRole('textbox', { name: 'The link' }).inputValue();

/** A whole assignment: a bench with two faults, stations left out, given values, masses, a criterion. */
async function compose(place) {
  await fill(place, 'Title', 'Slate disc, group B');
  await fill(place, 'Your instructions', 'Five runs each.\nThen compare.');
  await place.getByRole('checkbox', { name: 'Pre-lab' }).uncheck();
  await choose(place, 'Where the readings come from', 'The practice bench');
  await place.getByText('Choose the bench’s apparatus and faults').click();
  await place.getByRole('checkbox', { name: 'the string slips in some runs' }).check();
  await place.getByRole('checkbox', { name: 'edges are seen twice' }).check();
  await choose(place, 'drum radius', 'given');
  await fill(place, 'drum radius: value', '25');
  await fill(place, 'drum radius: standard uncertainty', '0.03');
  await choose(place, 'string diameter', 'must be measured');
  await fill(place, 'Masses available', '20 x 2, 50, 100');
  await choose(place, 'What counts as agreement', 'difference within a percentage');
  await fill(place, 'At most, in percent of the prediction', '7');
  await place.getByText(/^The link has [\d,]+ of at most 2,?000 characters\.$/).waitFor();
}

test('what is chosen is what a student finds behind the link', async () => {
  const { page, context, errors, place } = await setting();
  assert.ok(!(await page.locator('#runs').isVisible()), 'the notebook is away');
  await compose(place);
  await place.getByRole('button', { name: 'Copy link' }).click();
  await place.getByText('The link is copied.').waitFor();
  const link = await page.evaluate(() => navigator.clipboard.readText());
  assert.ok(link.startsWith(`${host.url}#work=1.`) && link.length < 1000, link);
  assert.deepEqual(errors, []);
  await context.close();

  const student = await follow(link);
  const card = student.page.getByRole('region', { name: 'Your instructor set this work: Slate disc, group B' });
  await card.waitFor();
  assert.match(await card.innerText(), /Five runs each\.\nThen compare\./);
  const told = (await card.innerText()).replace(/[\u202f\u00a0]/g, ' ');
  for (const words of ['drum radius: 25 mm, u = 0.03 mm', 'string diameter', '20 g × 2, 50 g, 100 g', 'difference within 7', 'Your code is']) {
    assert.ok(told.includes(words), `${words} is not in ${told}`);
  }
  assert.equal(await student.page.evaluate(() => document.activeElement.id), 'assigned-heading');
  // The station that is left out is nowhere, and the others are numbered from 1.
  assert.ok(!(await student.page.locator('#prelab').isVisible()));
  const path = student.page.getByRole('navigation', { name: 'Stations of the lab' });
  assert.equal(await path.locator('ol li:visible').count(), 7);
  const number = await student.page.evaluate(() => {
    const { content, fontSize } = getComputedStyle(document.querySelector('#apparatus > h2 .number'), '::before');
    return [content, fontSize];
  });
  assert.deepEqual(number, ['counter(station)', '17.6px']);
  // What is given is read, and cannot be changed.
  const drum = station(student.page, 'Apparatus').getByLabel('drum radius R', { exact: true });
  assert.equal(await drum.inputValue(), '25');
  assert.ok(!(await drum.isEditable()));
  await station(student.page, 'Apparatus').getByText('Given by your instructor: it cannot be changed.').first().waitFor();
  assert.ok(await station(student.page, 'Apparatus').getByLabel('string diameter d', { exact: true }).isEditable());
  // The bench is set up, and hides what is wrong with it.
  const bench = station(student.page, 'Runs').locator('.bench');
  await bench.getByRole('heading', { name: /^Your bench: code/ }).waitFor();
  // The masses are those of the plan.
  const saved = JSON.parse((await saveLab(student.page)).text);
  assert.deepEqual(saved.plan.pieces_kg, [0.02, 0.02, 0.05, 0.1]);
  assert.deepEqual(JSON.parse(JSON.parse(saved.bench).bench).faults.map((one) => one.fault), ['string-slips', 'bounced-edges']);
  assert.deepEqual(student.errors, []);
  await student.context.close();

  // What the student saved opens with all of it.
  const later = await visit(browser, host, LAPTOP);
  await openLab(later.page, { name: 'mine.json', mimeType: 'application/json', buffer: Buffer.from(JSON.stringify(saved)) });
  await later.page.getByRole('region', { name: 'Your instructor set this work: Slate disc, group B' }).waitFor();
  assert.ok(!(await later.page.getByLabel('drum radius R', { exact: true }).isEditable()));
  assert.deepEqual(later.errors, []);
  await later.context.close();
});

test('a comparison is judged by what counts as agreement', async () => {
  const { page, context, errors } = await visit(browser, host, LAPTOP);
  await page.getByRole('button', { name: 'Open the example lab' }).click();
  await station(page, 'Comparison').getByText('Agree').first().waitFor();
  const open = JSON.parse((await saveLab(page)).text);
  for (const [agreement, words] of [
    [{ percent: 0.0001 }, /Differ\. The difference is .*; your instructor asks for at most/],
    ['normalized-error', /(Agree|Differ)\. \|Eₙ\| = [\d.]+; your instructor asks for at most 1\./],
  ]) {
    const set = JSON.stringify({ format: 'whorl-assignment', version: 1, title: 'Judged', agreement });
    const text = JSON.stringify({ ...open, assignment: set });
    await openLab(page, { name: 'judged.json', mimeType: 'application/json', buffer: Buffer.from(text) });
    await page.getByRole('region', { name: 'Your instructor set this work: Judged' }).waitFor();
    await station(page, 'Comparison').locator('.verdict').first().waitFor();
    assert.match((await station(page, 'Comparison').locator('.verdict').first().innerText()).replace(/\s+/g, ' '), words);
  }
  assert.deepEqual(errors, []);
  await context.close();
});

test('a link that is too long says by how much, and the file still works', async () => {
  const { page, context, errors, place } = await setting();
  await fill(place, 'Title', 'Long');
  // Text that repeats is short: signs that do not.
  const noise = Array.from({ length: 420 }, (_, k) => Math.sin(k + 1).toString(36).slice(3, 11)).join(' ');
  await fill(place, 'Your instructions', noise);
  const told = place.getByText(/^The link has [\d,]+ characters too many .* Shorten the instructions, or hand on the file/);
  await told.waitFor();
  assert.equal(await place.getByRole('button', { name: 'Copy link' }).getAttribute('aria-disabled'), 'true');
  const [download] = await Promise.all([page.waitForEvent('download'), place.getByRole('button', { name: 'Save file' }).click()]);
  const text = await textOf(download);
  assert.equal(JSON.parse(text).format, 'whorl-assignment');
  await context.close();
  assert.deepEqual(errors, []);
  const student = await visit(browser, host, LAPTOP);
  await openLab(student.page, { name: 'assignment.json', mimeType: 'application/json', buffer: Buffer.from(text) });
  await student.page.getByRole('region', { name: 'Your instructor set this work: Long' }).waitFor();
  await openLab(student.page, { name: 'worse.json', mimeType: 'application/json', buffer: Buffer.from(text.replace('"stations"', '"station"')) });
  await problem(student.page).getByText(/worse\.json, line \d+, column \d+: at station: there is no such field/).waitFor();
  await student.context.close();
});

test('a damaged link says what is wrong', async () => {
  const { context, place } = await setting();
  await compose(place);
  const link = await linkOf(place);
  await context.close();
  for (const [damaged, words] of [
    [link.slice(0, -7), /this link is damaged: something in it is missing or was changed/i],
    [link.replace('#work=1.', '#work=9.'), /newer Whorl/],
    [`${link.slice(0, -3)}<b>`, /the sign “%” /],
  ]) {
    const student = await follow(damaged);
    const alert = student.page.getByRole('alert').filter({ hasText: 'The assignment cannot be opened' });
    await alert.waitFor();
    assert.match(await alert.innerText(), words);
    assert.deepEqual(student.errors, []);
    await student.context.close();
  }
});

test('where nothing is kept, unsaved work is asked about, and stays when one says no', async () => {
  const { context: one, place } = await setting();
  await compose(place);
  const link = await linkOf(place);
  await one.close();
  const { page, context } = await visit(browser, host, { ...LAPTOP, before: NOTHING_IS_KEPT });
  await page.getByLabel('drum radius R', { exact: true }).fill('31');
  await page.getByText('This browser keeps nothing for this page').first().waitFor();
  let asked = 0;
  page.once('dialog', (dialog) => { asked += 1; dialog.dismiss(); });
  await page.evaluate((hash) => { location.hash = hash; }, new URL(link).hash);
  await page.getByText('Your lab was kept').waitFor();
  assert.equal(asked, 1);
  assert.equal(await page.getByLabel('drum radius R', { exact: true }).inputValue(), '31');
  await context.close();
});

test('where labs are kept, work is set beside the lab at hand, which waits on the shelf', async () => {
  const { context: one, place } = await setting();
  await compose(place);
  const link = await linkOf(place);
  await one.close();
  const { page, context } = await visit(browser, host, LAPTOP);
  let asked = 0;
  page.on('dialog', (dialog) => { asked += 1; dialog.dismiss(); });
  await page.getByLabel('Title of this lab').fill('Oak bar, Monday');
  await page.getByLabel('Title of this lab').blur();
  // Before that, one is asked: what would be replaced is kept nowhere.
  await kept(page);
  await page.evaluate((hash) => { location.hash = hash; }, new URL(link).hash);
  await page.getByRole('region', { name: 'Your instructor set this work: Slate disc, group B' }).waitFor();
  assert.equal(asked, 0);
  await page.getByText('Labs kept in this browser', { exact: true }).click();
  await page.getByRole('button', { name: /^Open.*Oak bar, Monday/ }).click();
  await page.waitForFunction(() => [...document.querySelectorAll('input')].some((field) => field.value === 'Oak bar, Monday'));
  await context.close();
});

test('a recorded lab is fetched and worked with, and what cannot be fetched is told', async () => {
  const { context, place } = await setting();
  await fill(place, 'Title', 'Oak bar');
  await choose(place, 'Where the readings come from', 'A recorded lab');
  const list = JSON.parse(await (await fetch(`${host.url}library/index.json`)).text());
  await fill(place, 'Address of the recorded lab', `library/${list.datasets[0].file}`);
  const link = await linkOf(place);
  await fill(place, 'Address of the recorded lab', 'library/not-there.json');
  const missing = await linkOf(place);
  await context.close();
  const student = await follow(link);
  await student.page.getByRole('region', { name: 'Your instructor set this work: Oak bar' }).waitFor();
  await student.page.getByText('What was recorded', { exact: false }).first().waitFor();
  await student.context.close();
  const lost = await follow(missing);
  await lost.page.getByText(/The recorded lab of this assignment could not be opened/).waitFor();
  await lost.page.getByRole('button', { name: /again/ }).waitFor();
  await lost.context.close();
});

test('what an instructor types is text, wherever it is shown', async () => {
  const evil = '"><img src=x onerror="window.hurt=1"></iframe><script>window.hurt=1</script>';
  const { context, errors, place } = await setting();
  await fill(place, 'Title', evil);
  await fill(place, 'Your instructions', `${evil}\n<a href="javascript:window.hurt=1">here</a>`);
  const [link, snippet] = [await linkOf(place), await place.getByRole('textbox', { name: 'The snippet' }).inputValue()];
  assert.ok(!snippet.includes('<img') && snippet.split('<script>').length === 2, snippet);
  await context.close();
  assert.deepEqual(errors, []);
  const student = await follow(link);
  const card = student.page.locator('section.assigned');
  await card.getByText('window.hurt=1').first().waitFor();
  assert.equal(await card.locator('img, script, a, iframe').count(), 0);
  assert.equal(await student.page.evaluate(() => window.hurt), undefined);
  assert.deepEqual(student.errors, []);
  await student.context.close();
  // The snippet in a course page.
  const course = await coursePage(snippet);
  const shown = await follow(course.url);
  await shown.page.frameLocator('iframe').locator('section.assigned').waitFor();
  assert.equal(await shown.page.evaluate(() => window.hurt), undefined);
  assert.equal(await shown.page.locator('iframe').getAttribute('title'), evil);
  await shown.context.close();
  await course.close();
});

/** A course page of another origin that holds a snippet. */
async function coursePage(snippet) {
  const server = createServer((_, response) => {
    response.writeHead(200, { 'Content-Type': 'text/html; charset=utf-8' });
    response.end(`<!doctype html><html lang="en"><title>Physics 101</title><h1>Physics 101</h1><main>${snippet}</main><p>Next week</p></html>`);
  });
  await new Promise((listening) => server.listen(0, '127.0.0.1', listening));
  const close = () => new Promise((closed) => { server.close(closed); server.closeAllConnections(); });
  return { url: `http://localhost:${server.address().port}/`, close };
}

test('a course page of another origin shows the work, and its frame grows to its height', async () => {
  const { page, context, place } = await setting();
  await compose(place);
  await place.getByRole('button', { name: 'Copy embed snippet' }).click();
  await place.getByText('The snippet is copied', { exact: false }).waitFor();
  const snippet = await page.evaluate(() => navigator.clipboard.readText());
  await context.close();
  const script = snippet.slice(snippet.indexOf('<script>'));
  assert.ok(script.trim().split('\n').length <= 10, script);
  const course = await coursePage(snippet);
  for (const size of [LAPTOP, { viewport: { width: 360, height: 740 } }]) {
    const student = await follow(course.url, size);
    const frame = student.page.frameLocator('iframe');
    await frame.locator('#comparison').waitFor();
    const heights = async () => ({
      frame: await student.page.locator('iframe').evaluate((one) => one.getBoundingClientRect().height),
      content: await frame.locator('html').evaluate((one) => one.getBoundingClientRect().height),
    });
    // It grows once all is built, and follows what is opened in it.
    await student.page.waitForFunction(() => document.querySelector('iframe').clientHeight > 2000);
    await student.page.waitForTimeout(600);
    assert.equal(await student.page.evaluate(() => scrollY), 0, 'the course page stays where it was');
    const whole = await heights();
    assert.ok(whole.frame >= whole.content - 1 && whole.frame - whole.content < 9, JSON.stringify(whole));
    assert.equal(await frame.locator('html').evaluate((one) => one.scrollHeight - one.clientHeight), 0, 'no scroll of its own');
    await frame.locator('summary', { hasText: 'Drop height' }).click();
    await student.page.waitForTimeout(600);
    const more = await heights();
    assert.ok(more.content > whole.content && more.frame >= more.content - 1, JSON.stringify({ whole, more }));
    await frame.locator('summary', { hasText: 'Drop height' }).click();
    await student.page.waitForTimeout(600);
    assert.ok(Math.abs((await heights()).frame - whole.frame) < 9, 'it shrinks, too');
    // The path stays where it is in the page: over nothing.
    const top = await frame.locator('.path').evaluate((path) => path.getBoundingClientRect().top - path.parentElement.getBoundingClientRect().top);
    assert.ok(top > 0, `${top}`);
    // Messages of others are not heard.
    await student.page.evaluate(() => document.querySelector('iframe').contentWindow.postMessage({ type: 'whorl-height', version: 1, px: 1 }, '*'));
    await student.page.evaluate(() => window.postMessage({ type: 'whorl-height', version: 1, px: 1 }, '*'));
    await student.page.waitForTimeout(200);
    assert.ok((await heights()).frame > 2000);
    assert.deepEqual(student.errors, []);
    await student.context.close();
  }
  await course.close();
});

test('in another language the choices stay', async () => {
  const { page, context, errors, place } = await setting();
  await compose(place);
  await page.getByLabel('Language').selectOption('es');
  const there = page.getByRole('region', { name: 'Preparar una tarea' });
  await there.waitFor();
  assert.equal(await there.getByRole('textbox', { name: 'Título', exact: true }).inputValue(), 'Slate disc, group B');
  assert.deepEqual(errors, []);
  await context.close();
});

for (const [where, size] of Object.entries(SIZES)) {
  for (const colorScheme of ['light', 'dark']) {
    test(`axe-core finds nothing where work is set and where it is done, ${where}, ${colorScheme}`, async () => {
      const { context, page, place } = await setting({ ...size, colorScheme });
      await compose(place);
      assert.deepEqual(await violations(page), []);
      const link = await linkOf(place);
      await context.close();
      const student = await follow(link, { ...size, colorScheme });
      await student.page.locator('section.assigned').waitFor();
      await station(student.page, 'Comparison').waitFor();
      assert.deepEqual(await violations(student.page), []);
      await student.context.close();
      const damaged = await follow(`${host.url}#work=1.AAAA`, { ...size, colorScheme });
      await damaged.page.getByText('The assignment cannot be opened').waitFor();
      assert.deepEqual(await violations(damaged.page), []);
      await damaged.context.close();
    });
  }
}

for (const [where, options] of NARROW) {
  test(`nothing scrolls sideways ${where}`, async () => {
    const { context, page, place } = await setting(options);
    await compose(place);
    assert.deepEqual(await tooWide(page), { beyond: 0, wide: [] });
    const link = await linkOf(place);
    await context.close();
    const student = await follow(link, options);
    await student.page.locator('section.assigned').waitFor();
    await station(student.page, 'Comparison').waitFor();
    assert.deepEqual(await tooWide(student.page), { beyond: 0, wide: [] });
    await student.context.close();
  });
}
