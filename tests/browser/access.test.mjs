// The page for everyone: by assistive technology, by keyboard alone, small, zoomed, respaced.

import assert from 'node:assert/strict';
import { test } from 'node:test';

import { NARROW, SIZES, WIDER, tooWide, violations, wear } from './inspection.mjs';
import { openAllDetails, openExample, result, station, visit } from './lab-page.mjs';
import { browser, host } from './session.mjs';

for (const [where, size] of Object.entries(SIZES)) {
  for (const colorScheme of ['light', 'dark']) {
    test(`axe-core finds nothing on the empty page ${where}, ${colorScheme}`, async () => {
      const { page, context } = await visit(browser, host, { ...size, colorScheme });
      assert.deepEqual(await violations(page), []);
      await context.close();
    });

    test(`axe-core finds nothing on the example lab with everything open ${where}, ${colorScheme}`, async () => {
      const { page, context } = await visit(browser, host, { ...size, colorScheme });
      await openExample(page);
      await openAllDetails(page);
      assert.deepEqual(await violations(page), []);
      await context.close();
    });
  }
}

test('axe-core finds nothing where something is wrong or refused', async () => {
  const { page, context } = await visit(browser, host);
  await openExample(page);
  await page.getByLabel('drum radius R', { exact: true }).fill('abc');
  await page.getByRole('button', { name: 'Remove the object slate disc' }).click();
  await page.getByLabel('Choose files…').setInputFiles({ name: 'empty.csv', mimeType: 'text/csv', buffer: Buffer.from('') });
  await page.getByText('cannot be used as it is:').waitFor();
  assert.deepEqual(await violations(page), []);
  await context.close();
});

for (const [where, options] of NARROW) {
  test(`the page does not scroll sideways ${where}`, async () => {
    const { page, context } = await visit(browser, host, options);
    assert.deepEqual(await tooWide(page), { beyond: 0, wide: [] }, 'empty');
    await openExample(page);
    assert.deepEqual(await tooWide(page), { beyond: 0, wide: [] }, 'example');
    await openAllDetails(page);
    await page.waitForLoadState('networkidle');
    assert.deepEqual(await tooWide(page), { beyond: 0, wide: [] }, 'everything open');
    await context.close();
  });
}

/** Every control that can be used now, in the order of the page, as a path a key can be checked against. */
function controls(page) {
  return page.evaluate(() => {
    const all = document.querySelectorAll('a[href], button, input, select, textarea, summary, [tabindex="0"]');
    const usable = [...all].filter((control) => !control.disabled && control.checkVisibility({ visibilityProperty: true }));
    usable.forEach((control, index) => control.setAttribute('data-stop', String(index)));
    return usable.length;
  });
}

test('Tab reaches every control in the order of the page, each with a focus that is seen', async () => {
  const { page, context } = await visit(browser, host);
  await openExample(page);
  await openAllDetails(page);
  const count = await controls(page);
  assert.ok(count > 150, `${count} controls`);
  await page.evaluate(() => window.scrollTo(0, 0));
  // From here the keys go on.
  await page.getByRole('heading', { level: 1 }).click();
  const reached = [];
  for (let stop = 0; stop < count + 5; stop += 1) {
    await page.keyboard.press('Tab');
    const focus = await page.evaluate(() => {
      const control = document.activeElement;
      if (!control || control === document.body) return null;
      // A file input is seen as its label.
      const seen = control.type === 'file' ? control.nextElementSibling : control;
      const { outlineStyle, outlineWidth, outlineColor } = getComputedStyle(seen);
      const box = seen.getBoundingClientRect();
      const top = document.elementFromPoint(box.left + Math.min(box.width, innerWidth) / 2, box.top + Math.min(box.height, 40) / 2);
      const covered = top?.closest('.path') && !seen.closest('.path');
      return {
        stop: control.dataset.stop === undefined ? -1 : Number(control.dataset.stop),
        what: `${control.tagName.toLowerCase()} ${control.getAttribute('aria-label') ?? control.textContent.slice(0, 30)}`,
        outline: outlineStyle !== 'none' && Number.parseFloat(outlineWidth) >= 2 && !/, 0\)$/.test(outlineColor),
        onScreen: box.bottom > 0 && box.top < innerHeight && box.right > 0 && box.left < innerWidth,
        covered: Boolean(covered),
      };
    });
    if (focus === null) break;
    reached.push(focus);
  }
  const expected = Array.from({ length: count }, (_, stop) => stop);
  assert.equal(reached.map((focus) => focus.stop).slice(0, count).join(' '), expected.join(' '));
  const words = (wrong) => reached.filter(wrong).map((focus) => focus.what);
  assert.deepEqual(words((focus) => !focus.outline), [], 'without an outline');
  assert.deepEqual(words((focus) => !focus.onScreen), [], 'off the screen');
  assert.deepEqual(words((focus) => focus.covered), [], 'covered by the path');
  await context.close();
});

test('Shift+Tab shows each control too, not hidden under the path', async () => {
  const { page, context } = await visit(browser, host);
  await openExample(page);
  await page.getByRole('button', { name: 'Next run' }).focus();
  const covered = [];
  for (let stop = 0; stop < 60; stop += 1) {
    await page.keyboard.press('Shift+Tab');
    const under = await page.evaluate(() => {
      const control = document.activeElement;
      if (control.closest('.path')) return null;
      const path = document.querySelector('.path').getBoundingClientRect();
      const box = (control.type === 'file' ? control.nextElementSibling : control).getBoundingClientRect();
      const hidden = box.bottom <= path.bottom + 1 && box.top >= path.top - 1 && box.height > 0;
      return hidden ? `${control.tagName} ${control.getAttribute('aria-label') ?? control.textContent}` : null;
    });
    if (under) covered.push(under);
  }
  assert.deepEqual(covered, []);
  await context.close();
});

test('a stretch is set by keyboard alone', async () => {
  const { page, context } = await visit(browser, host);
  await openExample(page);
  const acceleration = () => result(station(page, 'Acceleration'), 'acceleration a');
  const before = await acceleration();
  await page.getByRole('button', { name: 'Next run' }).focus();
  const inField = () => page.evaluate(() => document.activeElement.closest('fieldset.stretch') && document.activeElement.tagName === 'INPUT');
  for (let keys = 0; keys < 10 && !(await inField()); keys += 1) await page.keyboard.press('Tab');
  assert.ok(await inField());
  await page.keyboard.press('ControlOrMeta+a');
  await page.keyboard.type('5.5');
  await page.keyboard.press('Tab');
  await page.keyboard.press('ControlOrMeta+a');
  await page.keyboard.type('8.5');
  assert.notEqual(await acceleration(), before);
  const summary = await station(page, 'Acceleration').getByRole('figure').first().locator('figcaption').innerText();
  assert.match(summary, /from 5\.5 to 8\.5/);
  await context.close();
});

test('an entry keeps the focus while results are built anew', async () => {
  const { page, context } = await visit(browser, host);
  await openExample(page);
  await page.getByLabel('drum radius R', { exact: true }).focus();
  await page.keyboard.press('End');
  await page.keyboard.type('.125');
  assert.equal(await page.evaluate(() => document.activeElement.value), '25.125');
  await context.close();
});

test('text keeps its place when lines, words and letters are spaced wider', async () => {
  const { page, context } = await visit(browser, host, { viewport: { width: 360, height: 740 } });
  await openExample(page);
  await openAllDetails(page);
  await wear(page, WIDER);
  assert.deepEqual(await tooWide(page), { beyond: 0, wide: [] });
  const clipped = await page.evaluate(() => {
    const cuts = (style) => [style.overflowX, style.overflowY].some((value) => value === 'hidden' || value === 'clip');
    return [...document.body.querySelectorAll('*')]
      .filter((element) => element.checkVisibility() && element.textContent.trim() !== '' && !element.matches('.visually-hidden, canvas, script, style, thead'))
      .filter((element) => {
        const style = getComputedStyle(element);
        const beyond = element.scrollHeight > element.clientHeight + 2 || element.scrollWidth > element.clientWidth + 2;
        return cuts(style) && style.overflowX !== 'auto' && beyond && element.clientHeight > 1;
      })
      .map((element) => `${element.tagName.toLowerCase()}.${element.className}: ${element.textContent.slice(0, 40)}`);
  });
  assert.deepEqual(clipped, []);
  await context.close();
});
