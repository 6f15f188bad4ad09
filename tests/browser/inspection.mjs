// The page looked over as a whole: by axe-core, and for what does not fit in the window.

import { readFile } from 'node:fs/promises';
import { createRequire } from 'node:module';

const axe = await readFile(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

export const SIZES = {
  'on a laptop': { viewport: { width: 1366, height: 768 } },
  'on a phone': { viewport: { width: 360, height: 740 } },
  'at 200 % zoom': { viewport: { width: 683, height: 384 }, deviceScaleFactor: 2 },
};

/** Windows in which nothing may scroll sideways. */
export const NARROW = [
  ['at 320 px', { viewport: { width: 320, height: 640 } }],
  ['at 360 px', { viewport: { width: 360, height: 740 } }],
  ['at 200 % zoom of a laptop', { viewport: { width: 683, height: 384 }, deviceScaleFactor: 2 }],
];

/** Text set wider, as WCAG 2.2, 1.4.12, has it. */
export const WIDER = `* { line-height: 1.5 !important; letter-spacing: 0.12em !important; word-spacing: 0.16em !important; }
  p { margin-bottom: 2em !important; }`;

/** A reader's own style sheet: the page's policy lets no style stand in the document, and does not ask for these. */
export const wear = (page, styles) => page.evaluate((styles) => {
  const sheet = new CSSStyleSheet();
  sheet.replaceSync(styles);
  document.adoptedStyleSheets = [sheet];
}, styles);

/** What axe-core finds wrong, one line each. */
export async function violations(page) {
  await page.evaluate(axe);
  const found = await page.evaluate(async () => {
    const { violations } = await window.axe.run(document, { resultTypes: ['violations'] });
    return violations.flatMap(({ id, help, nodes }) =>
      nodes.map((node) => `${id} (${help}): ${node.html.slice(0, 160)} — ${node.failureSummary.replace(/\s+/g, ' ')}`),
    );
  });
  return [...new Set(found)];
}

/** What reaches beyond the right edge of the window, widest first, without what scrolls by itself. */
export function tooWide(page) {
  return page.evaluate(() => {
    const { clientWidth, scrollWidth } = document.documentElement;
    const scrolls = (element) => element && (['auto', 'scroll', 'hidden'].includes(getComputedStyle(element).overflowX) || scrolls(element.parentElement));
    const wide = [...document.body.querySelectorAll('*')]
      .filter((element) => element.getBoundingClientRect().right > clientWidth + 1 && !scrolls(element.parentElement))
      .map((element) => `${element.tagName.toLowerCase()}.${element.className} to ${Math.round(element.getBoundingClientRect().right)}: ${element.textContent.slice(0, 50)}`);
    return { beyond: scrollWidth - clientWidth, wide: scrollWidth > clientWidth ? wide.slice(0, 8) : [] };
  });
}
