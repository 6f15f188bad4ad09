// Using the page by keyboard alone: where the focus is, and moving it on.

/** What has the focus: its kind, its name, and the groups it stands in. */
export function focused(page) {
  return page.evaluate(() => {
    const control = document.activeElement;
    if (!control || control === document.body) return { kind: 'nothing', name: '', groups: [], step: '' };
    const plain = (text) => text.replace(/\u2062/g, '').replace(/\s+/g, ' ').trim();
    const read = (label) => {
      const copy = label.cloneNode(true);
      // A label may hold the very control it names, and a sketch that is only seen.
      for (const silent of copy.querySelectorAll('select, input, [aria-hidden="true"]')) silent.remove();
      return copy.textContent;
    };
    const labels = [...(control.labels ?? [])].map(read).join(' ');
    const groups = [];
    for (let place = control.closest('fieldset'); place; place = place.parentElement.closest('fieldset')) {
      groups.push(plain(place.querySelector('legend').textContent));
    }
    const kind = control.localName === 'input' ? control.type : control.localName;
    const chosen = control.selectedOptions?.[0]?.textContent;
    return {
      kind,
      name: plain(control.getAttribute('aria-label') ?? (labels || control.textContent)),
      groups,
      step: control.closest('.derivation > li')?.id.replace('step-', '') ?? '',
      value: chosen ?? control.value ?? '',
      checked: control.checked ?? false,
    };
  });
}

const told = ({ kind, name, groups, step }) => `${kind} “${name.slice(0, 60)}”${groups.length > 0 ? ` in ${groups.join(', ')}` : ''}${step && ` of ${step}`}`;

/** Whether what has the focus is what is looked for: every field given has to fit. */
function fits(focus, { kind, name, group, step, value }) {
  const same = (wanted, own) => wanted === undefined || (wanted instanceof RegExp ? wanted.test(own) : wanted === own);
  const inGroup = group === undefined || focus.groups.some((own) => same(group, own));
  return same(kind, focus.kind) && same(name, focus.name) && same(step, focus.step) && same(value, focus.value) && inGroup;
}

async function press(page, key, wanted, limit) {
  const passed = [];
  for (let keys = 0; keys < limit; keys += 1) {
    await page.keyboard.press(key);
    const focus = await focused(page);
    if (fits(focus, wanted)) return focus;
    passed.push(told(focus));
  }
  throw new Error(`${limit} times ${key} did not reach ${JSON.stringify(wanted, (_, part) => (part instanceof RegExp ? String(part) : part))} but ${passed.slice(-12).join('; ')}`);
}

/** Tabs on until something has the focus. */
export const tabTo = (page, wanted, limit = 60) => press(page, 'Tab', wanted, limit);

/** Tabs back until something has the focus. */
export const tabBackTo = (page, wanted, limit = 60) => press(page, 'Shift+Tab', wanted, limit);

/** Waits until the page itself has moved the focus to something. */
export async function focusMovesTo(page, wanted) {
  const until = Date.now() + 5000;
  let focus = await focused(page);
  while (!fits(focus, wanted)) {
    if (Date.now() > until) throw new Error(`the focus did not move to ${wanted.name} but stayed on ${told(focus)}`);
    await page.evaluate(() => new Promise((drawn) => requestAnimationFrame(drawn)));
    focus = await focused(page);
  }
}

/** Chooses an option of the list that has the focus by the arrow keys. */
export async function pick(page, value) {
  const { value: now } = await focused(page);
  if (now === value) return;
  await page.keyboard.press('Home');
  if ((await focused(page)).value !== value) await press(page, 'ArrowDown', { value }, 12);
}

/** Chooses a radio button of a group by Tab, Space and the arrow keys. */
export async function choose(page, group, name) {
  const first = await tabTo(page, { kind: 'radio', group });
  if (first.name !== name) await press(page, 'ArrowDown', { kind: 'radio', group, name }, 8);
  await page.keyboard.press('Space');
  const { checked } = await focused(page);
  if (!checked) throw new Error(`“${name}” is not chosen`);
}
