import { dist, launch } from './browser.mjs';
import { visit, station } from './lab-page.mjs';
import { serve } from './serve.mjs';
const SIZES = {
  wide: { viewport: { width: 1366, height: 768 } },
  phone: { viewport: { width: 360, height: 740 }, deviceScaleFactor: 2, hasTouch: true, isMobile: true },
  zoomed: { viewport: { width: 683, height: 384 }, deviceScaleFactor: 2 },
};
const browser = await launch();
const host = await serve(dist);
const which = (process.argv[2] ?? 'wide,phone').split(',');
for (const size of which) {
  const { page, errors } = await visit(browser, host, { ...SIZES[size], colorScheme: process.argv[3] ?? 'light' });
  await page.addStyleTag({ content: '.path { position: static !important; }' });
  await page.screenshot({ path: `/tmp/s-${size}-0.png` });
  await page.getByRole('button', { name: 'Begin: A turntable' }).click();
  await page.locator('#step-tension').waitFor();
  const pre = station(page, 'Pre-lab');
  await pre.screenshot({ path: `/tmp/s-${size}-1.png` });
  const step = async (id) => { const d = page.locator(`#step-${id}`); await d.locator('summary').first().click(); await d.locator('.step > div > *').first().waitFor(); return d; };
  const t = await step('no-slip');
  await t.getByLabel('Your answer').fill('a/R');
  await t.getByRole('button', { name: 'Check' }).click();
  const d = await step('tension');
  await d.getByLabel('Your answer').fill('T = m a/(2R)');
  await d.getByRole('button', { name: 'Check' }).click();
  for (let i = 0; i < 3; i++) { const more = d.locator('.ladder > button:visible'); if (await more.count()) await more.first().click(); }
  await d.screenshot({ path: `/tmp/s-${size}-2.png` });
  await d.getByLabel('Your answer').fill('T = m(g - &');
  await d.screenshot({ path: `/tmp/s-${size}-3.png` });
  const f = await step('mass-forces');
  await f.getByRole('button', { name: 'Add an arrow' }).click();
  await f.getByRole('button', { name: 'Add an arrow' }).click();
  await f.getByRole('button', { name: 'Check' }).click();
  await f.screenshot({ path: `/tmp/s-${size}-4.png` });
  const g = await step('graph');
  await g.screenshot({ path: `/tmp/s-${size}-5.png` });
  const tf = await step('table-forces');
  await tf.screenshot({ path: `/tmp/s-${size}-6.png` });
  await page.locator('.prelab-summary > summary').click();
  await page.locator('.prelab-summary').screenshot({ path: `/tmp/s-${size}-7.png` });
  await pre.locator('.card summary').click();
  await pre.locator('.card').screenshot({ path: `/tmp/s-${size}-8.png` });
  const s = await step('slope-intercept');
  await s.getByRole('button', { name: 'Check' }).click();
  await s.screenshot({ path: `/tmp/s-${size}-9.png` });
  console.log(size, errors, await page.evaluate(() => document.documentElement.scrollWidth + ' ' + innerWidth));
}
await browser.close(); await host.close();
