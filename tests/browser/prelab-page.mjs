// The pre-lab as a student meets it: its steps, their answers, what is said to them.

import { station } from './lab-page.mjs';

export const TURNTABLE = 'A turntable pulled round by a falling mass';
export const TWO_MASSES = 'Two masses on one pulley';

/** Answers to every step of the turntable in algebra that are accepted. */
export const RIGHT = {
  'rim': 'a_t = a',
  'no-slip': 'alpha = a/R',
  'balance': 'm g - T = m a',
  'tension': 'T = m(g - a)',
  'string-torque': 'tau_s = R T',
  'rotation': 'tau_s - tau_f = I alpha',
  'line': 'tau_s = I alpha + tau_f',
  'object': 'I_loaded - I_empty',
  'ignore-friction': 'I + tau_f/alpha',
  'pulley': 'm(g - a) - I_p a/r^2',
  'string-thickness': 'R + d/2',
  'coast-down': 'I beta',
  'single-run': 'm R^2(g - a)/a - tau_f R/a',
};

/** The words of a place, its formulas in one line with the rest. */
export async function words(locator) {
  return plain(await locator.evaluate((element) => element.textContent));
}

/** Text without what no test should hang on: invisible signs, kinds of spaces and of apostrophes. */
export const plain = (text) => text.replace(/\u2062/g, '').replaceAll("'", '’').replace(/\s+/g, ' ').trim();

export const prelab = (page) => station(page, 'Pre-lab');

/** Begins a derivation that comes with the page. */
export async function begin(page, title = TURNTABLE) {
  await prelab(page).getByRole('button', { name: `Begin: ${title}` }).click();
  await prelab(page).locator('ol.derivation').waitFor();
}

/** Begins a derivation from a file: a path, or `{ name, mimeType, buffer }`. */
export async function beginFrom(page, file) {
  await prelab(page).getByLabel('Begin a derivation from a file…').setInputFiles(file);
}

/** A derivation's text as a file to choose. */
export function asFile(name, content) {
  const text = typeof content === 'string' ? content : JSON.stringify(content, null, 2);
  return { name, mimeType: 'application/json', buffer: Buffer.from(text) };
}

/** A step by its id in the derivation. */
export const step = (page, id) => page.locator(`#step-${id}`);

/** Opens a step and waits for its content. */
export async function openStep(page, id) {
  const place = step(page, id);
  if (!(await place.locator('details.step').evaluate((details) => details.open))) {
    await place.locator('summary').first().click();
  }
  await place.locator('p.ask').waitFor();
  return place;
}

export const field = (place) => place.getByLabel('Your answer');

/** Checks what stands in a step. */
export const check = (place) => place.getByRole('button', { name: 'Check' }).click();

/** Writes an answer and checks it. */
export async function answer(place, text) {
  await field(place).fill(text);
  await check(place);
}

/** What is said to the last answer, one string for each rung. */
export async function said(place) {
  return (await place.locator('.ladder .rung').evaluateAll((rungs) => rungs.map((rung) => rung.textContent))).map(plain);
}

/** Waits until the last thing said holds these words. */
export async function hears(place, expected) {
  const until = Date.now() + 5000;
  for (;;) {
    const last = (await said(place)).at(-1) ?? '';
    if (last.includes(plain(expected))) return;
    if (Date.now() > until) throw new Error(`expected to hear “${expected}”, heard “${last}”`);
    await place.page().evaluate(() => new Promise((drawn) => requestAnimationFrame(drawn)));
  }
}

/** The button that leads one rung further down. */
export const further = (place) => place.locator('.ladder > button');

/** Answers a step in algebra rightly. */
export async function solve(page, id, text = RIGHT[id]) {
  const place = await openStep(page, id);
  await answer(place, text);
  await place.locator('.rung.right').waitFor();
  return place;
}

/** A formula's structure: `mfrac(mi:a mi:R)`; an invisible multiplication sign shows as `mo:`. */
export function shape(math) {
  return math.evaluate((element) => {
    const tell = (node) => {
      const tag = node.localName;
      if (node.children.length === 0) return `${tag}:${node.textContent.replace('\u2062', '')}`;
      const inner = [...node.children].map(tell).join(' ');
      return tag === 'math' ? inner : `${tag}(${inner})`;
    };
    return tell(element);
  });
}

/** Draws an arrow with the mouse, between two places of the scene's square. */
export async function draw(place, from, to) {
  const frame = place.locator('.drawing');
  await frame.scrollIntoViewIfNeeded();
  const on = await frame.locator('svg').evaluate((picture) => {
    const { left, top, width } = picture.getBoundingClientRect();
    const [x, y, across] = picture.getAttribute('viewBox').split(' ').map(Number);
    return { left, top, x, y, scale: width / across };
  });
  const at = ([x, y]) => [on.left + (x - on.x) * on.scale, on.top + (y - on.y) * on.scale];
  const { mouse } = place.page();
  await mouse.move(...at(from));
  await mouse.down();
  await mouse.move(...at([(from[0] + to[0]) / 2, (from[1] + to[1]) / 2]));
  await mouse.move(...at(to));
  await mouse.up();
}

/** Chooses the kind of force that the next drag draws. */
export const armWith = (place, force) => place.getByRole('group', { name: 'Force to draw' }).getByLabel(force, { exact: true }).check();

/** What the picture of a diagram is called for those who do not see it. */
export const toldInWords = (place) => place.getByRole('img').getAttribute('aria-label');

/** The teacher's summary, opened: a list of cells for each step, by the step's title. */
export async function summary(page) {
  const details = page.locator('details.prelab-summary');
  if (!(await details.evaluate((element) => element.open))) await details.locator('summary').click();
  // Built when it is opened, which the page hears a moment later.
  await details.locator('tbody tr').first().waitFor();
  const rows = await details.locator('tbody tr').evaluateAll((list) =>
    list.map((row) => [...row.children].map((cell) => cell.textContent)),
  );
  return new Map(rows.map(([title, ...cells]) => {
    const [answered, checks, hints, time] = cells.map(plain);
    return [title, { answered, checks, hints, time }];
  }));
}
