// Plays a script: presses its keys and listens. Everything goes by the keyboard; only the files behind a file dialog
// and the clipboard are handed over, as the system would.

import assert from 'node:assert/strict';
import { readFile } from 'node:fs/promises';
import { fileURLToPath } from 'node:url';

import { listenForErrors } from './browser.mjs';
import { ready, textOf } from './lab-page.mjs';
import { listen, lookAtStop } from './listening.mjs';
import { keep } from './reach.mjs';
import { fits } from './script-lines.mjs';

/** How long words may take to come, in ms. */
const PATIENCE = 8000;
/** How long nothing has to be said to call it silence: longer than the page waits before it looks at a lab anew. */
const SILENCE = 700;
/** From key to key of a typed text, in ms: quicker than people type, so that no pause is taken for its end. */
const TYPED = 40;
/** Announcements that typing one text may lead to: what is wrong with it, and what else it changed. */
const MOST_SAID = 2;
/** From key to key on a busy machine, in ms, what the page may take for the end of a text: typing goes on with another. */
const PAUSE = 500;
/** Steps that only listen. */
const HEARD = ['hear', 'said', 'silence', 'unasked', 'read'];
/** Stops that “Tab to” passes at most. */
const FAR = 260;

const tests = (path) => fileURLToPath(new URL(`../${path}`, import.meta.url));

export class Player {
  /** What is wrong, each with its line. */
  faults = [];
  /** What went on: keys pressed, stops made, most announcements while a text was typed. */
  figures = { keys: 0, stops: 0, most: 0 };

  static async on(browser, host) {
    const context = await browser.newContext({ permissions: ['clipboard-read', 'clipboard-write'] });
    const page = await context.newPage();
    const player = new Player();
    Object.assign(player, { context, page, errors: listenForErrors(page), heard: 0, selector: 'header' });
    player.ears = await listen(page);
    await keep(page);
    await page.goto(host.url);
    await ready(page);
    return player;
  }

  /** Does a step. What is not heard is kept, with its line, and the script goes on; where a key does not lead is its end. */
  async play(step) {
    this.step = step;
    try {
      await this[step.does](step);
    } catch (problem) {
      if (!HEARD.includes(step.does)) throw new Error(this.at(problem.message), { cause: problem });
      this.faults.push(this.at(problem.message));
    }
    await this.page.evaluate((selector) => window.stops.look(selector), this.selector);
  }

  at(fault) {
    return `line ${this.step.line} “${this.step.words}”: ${fault}`;
  }

  async end() {
    const seen = await this.page.evaluate(() => window.stops.seen());
    await this.context.close();
    return seen;
  }

  station({ name }) {
    this.selector = PARTS[name] ?? `section.station:has(#${idOf(name)}-heading)`;
  }

  async begin({ on }) {
    if (on === 'example lab') {
      await this.tab({ key: 'Tab', role: 'button', name: 'Open the example lab' });
      await this.key('Enter');
      await this.said({ text: 'Opened *' });
    }
  }

  async go({ name }) {
    await this.tab({ key: 'Tab', role: 'link', name: `${name} *` });
    await this.key('Enter');
  }

  async tab({ key, role, name }) {
    const passed = [];
    for (let keys = 0; keys < FAR; keys += 1) {
      const focus = await this.key(key);
      if (focus?.role === role && fits(name, focus.name)) return;
      passed.push(told(focus));
    }
    throw new Error(`not reached; the last stops were\n${passed.slice(-15).join('\n')}`);
  }

  async press({ key, times, then }) {
    const asked = then?.question && new Promise((answered) => {
      this.page.once('dialog', async (dialog) => {
        await (then.yes ? dialog.accept() : dialog.dismiss());
        answered(dialog.message());
      });
    });
    const saved = then?.file && this.page.waitForEvent('download', { timeout: PATIENCE });
    const wanted = then?.choose && this.page.waitForEvent('filechooser', { timeout: PATIENCE });
    for (let pressed = 0; pressed < times; pressed += 1) await this.key(key);
    if (asked) {
      const question = await soon(asked, 'no question came');
      assert.ok(fits(then.question, question), `the question was “${question}”`);
    }
    if (saved) {
      const download = await saved;
      assert.ok(fits(then.file, download.suggestedFilename()), `the file is called ${download.suggestedFilename()}`);
      assert.notEqual(await textOf(download), '');
    }
    if (wanted) await (await wanted).setFiles(then.choose.map(tests));
  }

  async type({ text }) {
    await this.key('ControlOrMeta+a');
    const before = (await this.ears.said()).length;
    let texts = 1;
    for (const key of text) {
      const begun = performance.now();
      await this.page.keyboard.type(key);
      await this.page.waitForTimeout(TYPED);
      if (performance.now() - begun > PAUSE) texts += 1;
    }
    this.figures.keys += text.length;
    await this.page.waitForTimeout(SILENCE);
    const said = (await this.ears.said()).slice(before);
    this.figures.most = Math.max(this.figures.most, said.length);
    if (said.length > MOST_SAID * texts) this.faults.push(this.at(`typing chatters: ${said.join(' | ')}`));
    this.heard = before;
  }

  async paste({ file }) {
    await this.page.evaluate((text) => navigator.clipboard.writeText(text), await readFile(tests(file), 'utf8'));
    await this.key('ControlOrMeta+v');
  }

  async hear({ role, name, value, described, within, states }) {
    let focus = null;
    const right = () =>
      focus !== null && focus.role === role && fits(name, focus.name)
      && (value === undefined || fits(value, focus.value))
      && (described === undefined || fits(described, focus.description))
      && (within === undefined || focus.groups.some((group) => fits(within, group)))
      && states.every((state) => focus.states.includes(state));
    await this.until(async () => {
      focus = await this.ears.focus(within !== undefined);
      return right();
    }, () => `heard ${told(focus)}`);
    await this.stop();
  }

  async said({ text }) {
    let said = [];
    await this.until(async () => {
      said = (await this.ears.said()).slice(this.heard);
      return said.some((words) => fits(text, words));
    }, () => `said was: ${said.join(' | ') || 'nothing'}`);
  }

  async silence() {
    await this.page.waitForTimeout(SILENCE);
    assert.deepEqual((await this.ears.said()).slice(this.heard), []);
  }

  async unasked() {
    const notes = await this.page.evaluate(() => {
      const note = document.getElementById(document.activeElement.getAttribute('aria-describedby') ?? '');
      return [...(note?.querySelectorAll('.problem, .question') ?? [])].map((one) => one.textContent).join('');
    });
    assert.equal(notes, '');
    assert.ok(!(await this.ears.focus()).states.includes('invalid'));
  }

  async read({ text }) {
    let words = '';
    await this.until(async () => {
      words = await this.ears.read(this.selector);
      return fits(`*${text}*`, words);
    }, () => `read was: ${words.slice(0, 6000)}`);
  }

  /** One key, and what has to be right after every key. */
  async key(key) {
    // A link into the page hands the focus to the place it leads to, which need not hold it.
    const [said, had] = await this.page.evaluate(() => [window.ears.said.length, !document.activeElement.matches('body, a[href^="#"]')]);
    this.heard = said;
    // What is being loaded says so; one waits for it.
    await this.page.waitForFunction(() => !document.querySelector('.loading'));
    await this.page.keyboard.press(key);
    this.figures.keys += 1;
    await this.page.evaluate(() => new Promise((drawn) => requestAnimationFrame(() => setTimeout(drawn, 0))));
    return this.stop(had && !/Tab$/.test(key) && key);
  }

  /** What has to be right wherever the focus is; gives what has it. */
  async stop(key) {
    let focus = await this.ears.focus();
    // Where what had the focus goes away, the page may hand it on a moment later; and while all words change to another
    // language, the browser's tree may not tell yet what has it.
    for (let turns = 0; (focus === null || focus.role === 'none') && key && turns < 60; turns += 1) {
      await this.page.waitForTimeout(30);
      focus = await this.ears.focus();
    }
    if (focus === null) {
      if (key) this.faults.push(this.at(`${key} loses the focus`));
      return focus;
    }
    this.figures.stops += 1;
    const look = () => this.page.evaluate(lookAtStop, { selector: this.selector, name: focus.name });
    let { wrong, name, html } = await look();
    // A part that just came may move everything once more.
    for (let turns = 0; wrong.length > 0 && turns < 8; turns += 1) {
      await this.page.waitForTimeout(50);
      ({ wrong, name, html } = await look());
    }
    if (name === '') this.faults.push(this.at(`a ${focus.role} has no name: ${html}`));
    if (wrong.length > 0) this.faults.push(this.at(`the focus on ${told(focus)} ${wrong.join(', ')}`));
    return focus;
  }

  async until(met, otherwise) {
    const until = Date.now() + PATIENCE;
    while (!(await met())) {
      if (Date.now() > until) throw new Error(otherwise());
      await this.page.waitForTimeout(30);
    }
  }
}

/** Parts of the page that are no stations of their own. */
const PARTS = { header: 'header.page-head, nav, .next, footer', findings: 'section.findings', plan: 'details.plan', setting: '#work' };
const IDS = { 'Pre-lab': 'prelab', 'Inertia line': 'line', 'Object alone': 'object' };
const idOf = (name) => IDS[name] ?? name.toLowerCase();

const soon = (promise, otherwise) =>
  Promise.race([promise, new Promise((_, fail) => setTimeout(() => fail(new Error(otherwise)), PATIENCE).unref())]);

/** A stop as a line of a script. */
export function told(focus) {
  if (focus === null) return 'nothing';
  const { role, name, value, description, states, groups = [] } = focus;
  const parts = [value && `value "${value}"`, description && `described "${description}"`, ...groups.map((group) => `in "${group}"`)];
  const more = [...parts, ...states].filter(Boolean);
  return `${role} "${name}"${more.map((part) => `, ${part}`).join('')}`;
}
