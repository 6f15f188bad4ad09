// Which controls of a station a script came to: kept in the page, since controls come and go.

/** Installed before the page starts. */
function keepStops() {
  const CONTROLS = 'a[href], button, input, select, textarea, summary, [tabindex="0"], audio[controls]';
  const plain = (text) => text.replace(/\u2062/g, '').replace(/\s+/g, ' ').trim();
  const read = (label) => {
    const copy = label.cloneNode(true);
    // How far a station or a step is changes; the control stays the same.
    for (const silent of copy.querySelectorAll('select, input, [aria-hidden="true"], .state')) silent.remove();
    return copy.textContent;
  };
  const named = (control) => control.closest('.next') ? 'what comes next' : control.getAttribute('aria-label') ?? (control.labels?.length ? [...control.labels].map(read).join(' ') : read(control));
  // What it stands in: two charts have buttons of the same name.
  const place = (control) => {
    const group = control.closest('fieldset, figure, [role="group"][aria-label], section');
    if (!group) return '';
    if (group.matches('figure')) return group.querySelector('[role="application"]')?.getAttribute('aria-label') ?? '';
    return group.getAttribute('aria-label') ?? group.querySelector('legend, h2, h3')?.textContent ?? '';
  };
  /** The names that users give: runs, objects, files. */
  const names = new Set(['empty table']);
  const given = () => {
    for (const field of document.querySelectorAll('main input[type="text"]')) {
      const [, named] = /^name of (.*)$/.exec(field.getAttribute('aria-label') ?? '') ?? [];
      if (named && !/^the /.test(named)) names.add(named);
      if (named) names.add(field.value);
    }
    for (const option of document.querySelectorAll('main .run-choice option')) names.add(option.textContent);
    return [...names].filter((name) => name.length > 2).sort((one, other) => other.length - one.length);
  };
  const alike = (text, names) => {
    let same = plain(text).replace(/\S+\.(csv|txt|json)/g, 'FILE').replace(/−/g, '');
    for (const name of names) same = same.replaceAll(name, '…');
    // One run, two runs.
    same = same.replace(/\b(run|doubt|remark)s\b/g, '$1');
    return same.replace(/[\d.,]*\d/g, '#').replace(/[⁰¹²³⁴⁵⁶⁷⁸⁹⁻]+/g, '#');
  };
  const sign = (control, names) => {
    const kind = control.localName === 'input' ? control.type : control.localName;
    return `${kind} “${alike(named(control), names)}” in ${alike(place(control), names)}`;
  };
  const usable = (control) => !control.disabled && control.checkVisibility({ visibilityProperty: true }) && control.type !== 'hidden';
  const seen = new Map();
  const note = (control, names, what) => {
    const key = sign(control, names);
    const before = seen.get(key) ?? { reached: false, opened: !control.matches('summary') };
    seen.set(key, { ...before, ...what });
  };
  window.stops = {
    seen: () => [...seen].map(([control, what]) => ({ control, ...what })),
    /** Notes what can be used in a place now. */
    look(selector) {
      // In another language they are the same controls.
      if (document.documentElement.lang !== 'en') return;
      const names = given();
      for (const control of document.querySelectorAll(selector)) {
        for (const one of control.querySelectorAll(CONTROLS)) if (usable(one)) note(one, names, one.closest('details')?.querySelector('summary') === one && one.parentElement.open ? { opened: true } : {});
      }
    },
    /** Notes what has the focus. */
    stop(selector) {
      const control = document.activeElement;
      if (control && control !== document.body && control.closest(selector)) note(control, given(), { reached: true });
    },
  };
}

/** Begins to keep the stops of a page that is not loaded yet. */
export const keep = (page) => page.addInitScript(keepStops);

/** What of all that was seen no script came to, or opened. Takes what `window.stops.seen()` gave, script by script. */
export function missed(all) {
  const union = new Map();
  for (const { control, reached, opened } of all) {
    const before = union.get(control) ?? { reached: false, opened: false };
    union.set(control, { reached: before.reached || reached, opened: before.opened || opened });
  }
  return [...union].flatMap(([control, { reached, opened }]) => {
    if (!reached) return [`not reached: ${control}`];
    return opened ? [] : [`not opened: ${control}`];
  });
}
