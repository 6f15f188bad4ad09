// The page in Spanish: nothing is left in English, numbers have commas, files stay as they are.

import assert from 'node:assert/strict';
import { readdir, readFile } from 'node:fs/promises';
import { test } from 'node:test';

import { listenForErrors } from './browser.mjs';
import { dropFiles, everythingShown, openAllDetails, openExample, textOf, trayRead, visit } from './lab-page.mjs';
import { browser, during, host } from './session.mjs';

const words = new URL('../../crates/words/', import.meta.url);

/** The messages of a language, without their keys. */
async function messages(language) {
  const all = [];
  for (const name of await readdir(new URL(`${language}/`, words))) {
    for (const line of (await readFile(new URL(`${language}/${name}`, words), 'utf8')).split('\n')) {
      if (line.startsWith(' ')) all[all.length - 1] += ` ${line.trim()}`;
      else if (line.includes(' = ') && !line.startsWith('#')) all.push(line.slice(line.indexOf(' = ') + 3).trim());
    }
  }
  return all;
}

async function speakSpanish(page) {
  await page.getByLabel('Language').selectOption('es');
  await page.getByRole('button', { name: 'Abrir la práctica de ejemplo' }).waitFor();
}

test('chosen once, the whole page speaks Spanish, with decimal commas', () =>
  during(async (page) => {
    await openExample(page);
    await speakSpanish(page);
    assert.equal(await page.getAttribute('html', 'lang'), 'es');
    await page.getByRole('region', { name: 'Comparación', exact: true }).waitFor();
    const { text, fields } = await everythingShown(page);
    // What the example lab itself says is English.
    const lab = JSON.parse(await readFile(new URL('../../web/samples/banding-wheel.json', import.meta.url), 'utf8'));
    const own = `${lab.title} ${lab.notes} ${lab.objects.map(({ name }) => name).join(' ')}`;
    const english = (await messages('en')).filter((message) => !message.includes('{') && message.split(' ').length > 2 && !own.includes(message));
    const spanish = new Set(await messages('es'));
    assert.ok(english.length > 300, `${english.length} messages are looked for`);
    const left = english.filter((message) => !spanish.has(message) && (text.includes(message) || fields.includes(message)));
    assert.deepEqual(left, []);
    assert.match(text, /\d,\d/);
    assert.doesNotMatch(text.replaceAll(lab.notes, ''), /\d\.\d/, 'no decimal point');
  }));

test('the mark can be chosen apart from the language, and both are kept', () =>
  during(async (page) => {
    await speakSpanish(page);
    await page.getByLabel('Signo decimal').selectOption('.');
    await page.reload();
    await page.getByRole('button', { name: 'Abrir la práctica de ejemplo' }).waitFor();
    assert.equal(await page.getByLabel('Signo decimal').inputValue(), '.');
    await page.getByLabel('Idioma').selectOption('en');
    await page.getByRole('button', { name: 'Open the example lab' }).waitFor();
    assert.equal(await page.getAttribute('html', 'lang'), 'en');
  }));

test('a reader of Spanish is met in Spanish', async () => {
  const context = await browser.newContext({ locale: 'es-MX' });
  const page = await context.newPage();
  const errors = listenForErrors(page);
  await page.goto(host.url);
  await page.getByRole('button', { name: 'Abrir la práctica de ejemplo' }).waitFor();
  assert.deepEqual(errors, []);
  await context.close();
});

test('what was entered stays when the language changes, and numbers are read with either mark', () =>
  during(async (page) => {
    await page.getByLabel('drum radius R', { exact: true }).fill('25.03');
    await speakSpanish(page);
    const field = page.getByLabel('radio del tambor R', { exact: true });
    assert.equal(await field.inputValue(), '25,03');
    await field.fill('25,5');
    await page.getByLabel('Idioma').selectOption('en');
    await page.getByLabel('drum radius R', { exact: true }).waitFor();
    assert.equal(await page.getByLabel('drum radius R', { exact: true }).inputValue(), '25.5');
  }));

test('tables for programs are the same in every language', () =>
  during(async (page) => {
    await openExample(page);
    const tables = async (open, names) => {
      await page.getByText(open, { exact: true }).click();
      const texts = [];
      for (const name of names) {
        const [download] = await Promise.all([page.waitForEvent('download'), page.getByRole('button', { name }).click()]);
        texts.push(await textOf(download));
      }
      return texts;
    };
    const english = await tables('Tables as CSV', [/^Readings/, /^Results/]);
    await speakSpanish(page);
    const spanish = await tables('Tablas en CSV', [/^Lecturas/, /^Resultados/]);
    assert.deepEqual(spanish, english);
  }));

test('a language whose table cannot be had leaves the page as it was, and says so', async () => {
  // Not with `during`: the browser itself reports the request that is broken off here.
  const { page, context } = await visit(browser, host);
  await page.route('**/words/es.txt*', (route) => route.abort());
  await page.getByLabel('Language').selectOption('es');
  await page.getByText('The words in this language could not be fetched').waitFor();
  assert.equal(await page.getAttribute('html', 'lang'), 'en');
  await context.close();
});

test('read from right to left, nothing runs out of the page', () =>
  during(
    async (page) => {
      await openExample(page);
      await page.evaluate(() => document.documentElement.setAttribute('dir', 'rtl'));
      await openAllDetails(page);
      const wide = await page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);
      assert.equal(wide, 0);
    },
    { viewport: { width: 360, height: 740 } },
  ));

test('files that arrived and are not added yet outlive the change', () =>
  during(async (page) => {
    await dropFiles(page, [{ name: 'empty-50g.csv', text: `time (s)\n${Array.from({ length: 40 }, (_, k) => (0.35 * Math.sqrt(k + 1)).toFixed(5)).join('\n')}\n` }]);
    await trayRead(page, 1);
    await speakSpanish(page);
    await page.getByRole('button', { name: 'Añadir 1 ensayo a la práctica' }).click();
    await page.getByRole('link', { name: 'Ensayos 1 ensayo' }).waitFor();
  }));
