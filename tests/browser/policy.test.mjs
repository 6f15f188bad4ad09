// What the page allows itself: its own files, and nothing that others wrote is run.

import assert from 'node:assert/strict';
import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { test } from 'node:test';

import { dist } from './browser.mjs';
import { everythingShown, news, openExample, openLab, saveLab, visit } from './lab-page.mjs';
import { browser, host } from './session.mjs';

test('the policy allows no script but the page’s own files, and wasm', async () => {
  const page = await readFile(join(dist, 'index.html'), 'utf8');
  const policy = /http-equiv="?Content-Security-Policy"? content="([^"]+)"/.exec(page)?.[1];
  const rules = Object.fromEntries(policy.split(';').map((rule) => rule.trim().split(/ (.*)/s).slice(0, 2)));
  assert.equal(rules['default-src'], "'none'");
  assert.equal(rules['script-src'], "'self' 'wasm-unsafe-eval'");
  assert.equal(rules['style-src'], "'self'");
  assert.equal(rules['object-src'], "'none'");
  assert.equal(rules['base-uri'], "'none'");
  assert.doesNotMatch(policy, /'unsafe-(inline|eval)'/);
  const scripts = [...page.matchAll(/<script\b([^>]*)>([^<]*)/g)];
  assert.ok(scripts.length > 0);
  for (const [, attributes, inside] of scripts) {
    assert.match(attributes, /src=/);
    assert.equal(inside.trim(), '');
  }
  assert.doesNotMatch(page, /\son\w+=|javascript:|style=/);
});

/** Texts that would do something if anything read them as more than text. */
const HOSTILE = [
  '<img src=x onerror="window.harmed=1">',
  '"><script>window.harmed=1</script>',
  "'-window.harmed=1-'",
  '<svg/onload=window.harmed=1>',
  'javascript:window.harmed=1',
  '${window.harmed=1}{{constructor.constructor("window.harmed=1")()}}',
  '<iframe srcdoc="<script>parent.harmed=1</script>">',
  '=HYPERLINK("http://example.org/","x")',
  '\u202Etxt.exe\u202C <b>bold</b> &lt;i&gt; &#x3C;b&#x3E;',
  '</title></textarea></style><script>window.harmed=1</script>',
  ']]><!--<script>window.harmed=1</script>-->',
  '__proto__', 'constructor', '\u0000<b>\u0000', '%3Cscript%3Ewindow.harmed%3D1%3C/script%3E',
];

/** Nothing was run, nothing was asked of other hosts, and no element came from a text. */
async function unharmed(page, asked) {
  assert.equal(await page.evaluate(() => window.harmed), undefined);
  assert.deepEqual(asked.filter((address) => !address.startsWith(host.url) && !/^(data|blob):/.test(address)), []);
  const elements = await page.evaluate(() => document.body.querySelectorAll('script, iframe, b, object, embed, [onerror], [onload]').length);
  assert.equal(elements, 0);
}

/** Opens the page; also what it asks for, and where its policy stopped it. */
async function watched(options) {
  const { page, context, errors } = await visit(browser, host, options);
  const asked = [];
  page.on('request', (request) => asked.push(request.url()));
  await page.evaluate(() => {
    window.violations = [];
    addEventListener('securitypolicyviolation', (event) => window.violations.push(`${event.violatedDirective} ${event.blockedURI}`));
  });
  const violations = () => page.evaluate(() => window.violations);
  return { page, context, errors, asked, violations };
}

test('a whole lab is worked through without the policy stopping anything', async () => {
  const { page, context, errors, asked, violations } = await watched();
  await openExample(page);
  await everythingShown(page);
  await page.waitForTimeout(500);
  assert.deepEqual(await violations(), []);
  assert.deepEqual(errors, []);
  await unharmed(page, asked);
  await context.close();
});

test('hostile texts in every text field stay texts', async () => {
  const { page, context, asked, violations } = await watched();
  page.on('dialog', (dialog) => dialog.dismiss());
  await openExample(page);
  await everythingShown(page);
  let filled = 0;
  for (const text of HOSTILE) {
    const fields = page.locator('input[type=text], input:not([type]), input[type=search], textarea');
    const count = await fields.count();
    for (let index = 0; index < count; index += 1) {
      const field = fields.nth(index);
      if (await field.isEditable({ timeout: 500 }).catch(() => false)) {
        await field.evaluate((element, value) => {
          element.value = value;
          element.dispatchEvent(new Event('input', { bubbles: true }));
          element.dispatchEvent(new Event('change', { bubbles: true }));
        }, text).catch(() => {});
        filled += 1;
      }
    }
    await unharmed(page, asked);
  }
  assert.ok(filled > 500, `${filled} fields filled`);
  assert.deepEqual(await violations(), []);
  // What was saved with them opens again, and is as harmless.
  const { text } = await saveLab(page);
  await page.reload();
  await openLab(page, { name: 'hostile.json', mimeType: 'application/json', buffer: Buffer.from(text) });
  await news(page).filter({ hasText: 'Opened' }).waitFor();
  await everythingShown(page);
  await unharmed(page, asked);
  await context.close();
});

test('hostile texts in a lab file and in links stay texts', async () => {
  const sample = JSON.parse(await readFile(join(dist, 'samples/banding-wheel.json'), 'utf8'));
  for (const text of HOSTILE) {
    const { page, context, asked, violations } = await watched();
    const lab = structuredClone(sample);
    lab.title = lab.notes = text;
    for (const object of lab.objects) object.name = text;
    for (const run of lab.runs) {
      run.name = text;
      run.source = { file: text, bytes: null, sha256: null, run: text, remarks: [text] };
    }
    await openLab(page, { name: `${text.replace(/[\0/]/g, '')}.json`, mimeType: 'application/json', buffer: Buffer.from(JSON.stringify(lab)) });
    await page.waitForTimeout(300);
    await everythingShown(page);
    for (const link of ['#lab=', '#library=', '#work=', '#']) {
      await page.evaluate(([link, text]) => { location.hash = link + text; }, [link, text]);
      await page.waitForTimeout(50);
    }
    await unharmed(page, asked);
    assert.deepEqual(await violations(), []);
    await context.close();
  }
});
