// Charts by keys, by pointer, by ear, and as files.

import assert from 'node:assert/strict';
import { test } from 'node:test';

import { openExample, station, textOf } from './lab-page.mjs';
import { during } from './session.mjs';

const chart = (page, where, index = 0) => station(page, where).locator('figure.chart').nth(index);

/** What of the figure is shown, as a picture that can be compared. */
/** What is drawn, once it is: a chart out of view waits until it is seen. */
async function picture(figure) {
  await figure.scrollIntoViewIfNeeded();
  return figure.locator('canvas[width]').evaluate((canvas) => canvas.toDataURL());
}

async function openTools(figure) {
  await figure.locator('details.tools > summary').click();
  await figure.getByRole('button', { name: 'Enlarge' }).waitFor();
}

test('arrow keys read one value after the other, with its uncertainty, aloud', () =>
  during(async (page) => {
    await openExample(page);
    const lines = chart(page, 'Inertia line');
    const reading = lines.locator('.reading');
    assert.equal(await reading.innerText(), '');
    await lines.locator('.frame').focus();
    await page.keyboard.press('ArrowRight');
    const first = await reading.innerText();
    assert.match(first, /^empty table, 1 of 6: angular acceleration α [\d.]+\srad\/s², u = [\d.]+\srad\/s²; string torque τ [\d.]+\smN·m, u = [\d.]+\smN·m; on its line [\d.]+\smN·m$/);
    assert.equal(await reading.getAttribute('aria-live'), 'polite');
    await page.keyboard.press('ArrowRight');
    assert.match(await reading.innerText(), /^empty table, 2 of 6: /);
    await page.keyboard.press('End');
    assert.match(await reading.innerText(), /^empty table, 6 of 6: /);
    await page.keyboard.press('ArrowDown');
    assert.match(await reading.innerText(), /^slate disc, \d of \d: /);
    await page.keyboard.press('Escape');
    assert.equal(await reading.innerText(), '');
  }));

test('a pointer reads the nearest value and does not chatter', () =>
  during(async (page) => {
    await openExample(page);
    const comparison = chart(page, 'Acceleration');
    const canvas = comparison.locator('canvas');
    await canvas.scrollIntoViewIfNeeded();
    const box = await canvas.boundingBox();
    // Along the middle some mark is near.
    for (let x = 0.2; x < 0.9 && (await comparison.locator('.reading').innerText()) === ''; x += 0.02) {
      await page.mouse.move(box.x + x * box.width, box.y + 0.5 * box.height);
    }
    const reading = comparison.locator('.reading');
    assert.match(await reading.innerText(), /time t [\d.]+\ss; velocity v [\d.]+\sm\/s/);
    assert.equal(await reading.getAttribute('aria-live'), 'off');
    await page.mouse.move(box.x + 0.5 * box.width, box.y - 30);
    assert.equal(await reading.innerText(), '');
  }));

test('enlarged and moved by keys and by buttons, and back', () =>
  during(async (page) => {
    await openExample(page);
    const lines = chart(page, 'Inertia line');
    const whole = await picture(lines);
    await openTools(lines);
    const all = lines.getByRole('button', { name: 'Show all' });
    assert.ok(await all.isDisabled());
    await lines.locator('.frame').focus();
    await page.keyboard.press('+');
    const larger = await picture(lines);
    assert.notEqual(larger, whole);
    await page.keyboard.press('Shift+ArrowRight');
    const moved = await picture(lines);
    assert.notEqual(moved, larger);
    await page.keyboard.press('Shift+ArrowLeft');
    assert.equal(await picture(lines), larger);
    await page.keyboard.press('0');
    assert.equal(await picture(lines), whole);
    await lines.getByRole('button', { name: 'Enlarge' }).click();
    assert.equal(await picture(lines), larger, 'about the middle, as by the key');
    await lines.getByRole('button', { name: 'Move right' }).click();
    assert.equal(await picture(lines), moved);
    await all.click();
    assert.equal(await picture(lines), whole);
  }));

test('the wheel scrolls the page, and enlarges with Ctrl; dragging then moves', () =>
  during(async (page) => {
    await openExample(page);
    const lines = chart(page, 'Inertia line');
    const canvas = lines.locator('canvas');
    await canvas.scrollIntoViewIfNeeded();
    const whole = await picture(lines);
    const box = await canvas.boundingBox();
    const center = [box.x + box.width / 2, box.y + box.height / 2];
    await page.mouse.move(...center);
    const before = await page.evaluate(() => scrollY);
    await page.mouse.wheel(0, 40);
    await page.waitForFunction((before) => scrollY > before, before);
    assert.equal(await picture(lines), whole);
    await canvas.scrollIntoViewIfNeeded();
    await page.keyboard.down('Control');
    await page.mouse.wheel(0, -240);
    await page.keyboard.up('Control');
    const larger = await picture(lines);
    assert.notEqual(larger, whole);
    const now = await canvas.boundingBox();
    await page.mouse.move(now.x + 300, now.y + 150);
    await page.mouse.down();
    await page.mouse.move(now.x + 220, now.y + 170, { steps: 4 });
    await page.mouse.up();
    assert.notEqual(await picture(lines), larger);
  }));

test('two fingers enlarge', () =>
  during(
    async (page) => {
      await openExample(page);
      const lines = chart(page, 'Inertia line');
      const whole = await picture(lines);
      await lines.locator('canvas').evaluate((canvas) => {
        const box = canvas.getBoundingClientRect();
        const send = (type, pointerId, x) =>
          canvas.dispatchEvent(new PointerEvent(type, { pointerId, pointerType: 'touch', bubbles: true, clientX: box.left + x, clientY: box.top + 150 }));
        canvas.setPointerCapture = () => {};
        send('pointerdown', 11, 140);
        send('pointerdown', 12, 180);
        send('pointermove', 12, 260);
        send('pointerup', 11, 140);
        send('pointerup', 12, 260);
      });
      assert.notEqual(await picture(lines), whole);
    },
    { viewport: { width: 360, height: 740 }, hasTouch: true },
  ));

test('a chart is saved as SVG that tells itself, and as PNG on light paper', () =>
  during(
    async (page) => {
      await openExample(page);
      const lines = chart(page, 'Inertia line');
      await openTools(lines);
      const save = async (name) => {
        const [download] = await Promise.all([page.waitForEvent('download'), lines.getByRole('button', { name }).click()]);
        return download;
      };
      const drawn = await save('Save as SVG');
      assert.equal(drawn.suggestedFilename(), 'string-torque-against-angular-acceleration.svg');
      const text = await textOf(drawn);
      assert.match(text, /^<svg [^>]*role="img"/);
      assert.match(text, /<title>String torque against angular acceleration<\/title>/);
      assert.match(text, /<desc>.*slate disc/);
      const shot = await save('Save as PNG');
      assert.equal(shot.suggestedFilename(), 'string-torque-against-angular-acceleration.png');
      const bytes = await new Promise((resolve, reject) => {
        const chunks = [];
        shot.createReadStream().then((stream) => stream.on('data', (chunk) => chunks.push(chunk)).on('end', () => resolve(Buffer.concat(chunks))).on('error', reject), reject);
      });
      // PNG signature, width and height of the first chunk (PNG, third edition, 5.2 and 11.2.1).
      assert.equal(bytes.subarray(0, 8).toString('hex'), '89504e470d0a1a0a');
      assert.deepEqual([bytes.readUInt32BE(16), bytes.readUInt32BE(20)], [1800, 760]);
      const corner = await page.evaluate(async (base64) => {
        const image = new Image();
        image.src = `data:image/png;base64,${base64}`;
        await image.decode();
        const canvas = new OffscreenCanvas(image.width, image.height);
        const context = canvas.getContext('2d');
        context.drawImage(image, 0, 0);
        return [...context.getImageData(2, 2, 1, 1).data];
      }, bytes.toString('base64'));
      assert.deepEqual(corner, [0xfb, 0xf7, 0xef, 255], 'the light paper, though the page is dark');
    },
    { colorScheme: 'dark' },
  ));

test('a course in time can be heard, other charts cannot', () =>
  during(async (page) => {
    await openExample(page);
    const run = chart(page, 'Acceleration');
    await openTools(run);
    await run.getByRole('button', { name: 'Listen' }).click();
    await run.getByRole('button', { name: 'Stop' }).click();
    await run.getByRole('button', { name: 'Listen' }).waitFor();
    const lines = chart(page, 'Inertia line');
    await openTools(lines);
    assert.equal(await lines.getByRole('button', { name: 'Listen' }).count(), 0);
  }));
