import { dist, launch } from './browser.mjs';
import { visit, station, openAllDetails } from './lab-page.mjs';
import { serve } from './serve.mjs';
const browser = await launch();
const host = await serve(dist);
const { page } = await visit(browser, host, { viewport: { width: 360, height: 740 }, deviceScaleFactor: 2, hasTouch: true, isMobile: true });
const width = async (w) => console.log(w, await page.evaluate(() => [document.documentElement.scrollWidth, innerWidth, [...document.querySelectorAll('main *')].filter(e => e.getBoundingClientRect().right > 361 && !e.closest('.path') && !e.closest('.scroll')).slice(0,8).map(e => e.tagName + '.' + (e.className.baseVal ?? e.className) + ' ' + e.getBoundingClientRect().right)]));
await width('empty');
await page.getByRole('button', { name: 'Begin: A turntable' }).click();
await page.locator('#step-tension').waitFor();
await width('begun');
for (const d of await page.locator('.derivation details').all()) { await d.locator('summary').click(); }
await page.waitForTimeout(500);
await width('open');
await browser.close(); await host.close();
