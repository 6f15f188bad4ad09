// What a screen reader has to say: what has the focus, by the browser's accessibility tree, and what live regions
// announce. No screen reader is run; these are the facts that every one of them speaks from.

/** Installed before the page starts: keeps what is announced, and what can be used. */
function keepEars() {
  const said = [];
  const last = new WeakMap();
  const LIVE = '[aria-live], [role="status"], [role="alert"]';
  const plain = (text) => text.replace(/\u2062/g, '').replace(/\s+/g, ' ').trim();
  const loudness = (region) =>
    region.getAttribute('aria-live') ?? (region.getAttribute('role') === 'alert' ? 'assertive' : 'polite');
  // Text that is only seen is not spoken.
  const spoken = (region) => {
    const copy = region.cloneNode(true);
    for (const silent of copy.querySelectorAll('[aria-hidden="true"], [hidden]')) silent.remove();
    return plain(copy.textContent);
  };
  const tell = (region) => {
    if (loudness(region) === 'off' || !region.checkVisibility()) return;
    const text = spoken(region);
    if (text === last.get(region)) return;
    last.set(region, text);
    if (text !== '') said.push(text);
  };
  const watcher = new MutationObserver((changes) => {
    const touched = new Set();
    for (const { target, addedNodes } of changes) {
      const place = target.nodeType === Node.ELEMENT_NODE ? target : target.parentElement;
      const region = place?.closest(LIVE);
      if (region?.isConnected) touched.add(region);
      for (const node of addedNodes) {
        if (node.nodeType !== Node.ELEMENT_NODE) continue;
        for (const born of [node, ...node.querySelectorAll(LIVE)]) {
          if (!born.matches(LIVE)) continue;
          // A polite region that comes with its words is not announced by most screen readers: it has to be there
          // before. An alert is.
          if (loudness(born) === 'assertive') touched.add(born);
          else if (!last.has(born)) last.set(born, spoken(born));
        }
      }
    }
    touched.forEach(tell);
  });
  watcher.observe(document, { subtree: true, childList: true, characterData: true, attributes: true, attributeFilter: ['hidden', 'aria-live'] });
  window.ears = { said };
}

/** Opens ears on a page that is not loaded yet. */
export async function listen(page) {
  await page.addInitScript(keepEars);
  const wire = await page.context().newCDPSession(page);
  await wire.send('Accessibility.enable');
  return new Listener(page, wire);
}

const tidy = (text) => String(text ?? '').replace(/\u2062/g, '').replace(/\s+/g, ' ').trim();

/** Roles as a person hears them, where the tree has names of its own. */
const ROLES = { DisclosureTriangle: 'disclosure', combobox: 'menu', textbox: 'field', radio: 'choice', application: 'chart' };

class Listener {
  constructor(page, wire) {
    this.page = page;
    this.wire = wire;
  }

  /** What was announced so far. */
  said() {
    return this.page.evaluate(() => window.ears.said);
  }

  /** What has the focus: role, name, value, description, states, and the groups it stands in where they are asked for. `null` where nothing has it. */
  async focus(withGroups = false) {
    const { result } = await this.wire.send('Runtime.evaluate', { expression: 'document.activeElement' });
    if (!result.objectId || /^HTMLBodyElement/.test(result.className)) return null;
    const { nodes } = await this.wire.send('Accessibility.getPartialAXTree', { objectId: result.objectId, fetchRelatives: withGroups });
    await this.wire.send('Runtime.releaseObject', { objectId: result.objectId });
    const node = nodes.find((one) => one.properties?.some(({ name, value }) => name === 'focused' && value.value)) ?? nodes[0];
    const states = Object.fromEntries((node.properties ?? []).map(({ name, value }) => [name, value.value]));
    return {
      role: ROLES[node.role?.value] ?? node.role?.value ?? 'nothing',
      name: tidy(node.name?.value),
      value: tidy(node.value?.value),
      description: tidy(node.description?.value),
      states: spokenStates(states),
      groups: withGroups ? groupsOf(node, nodes) : [],
    };
  }

  /** All words of a place, in the order in which they are read. */
  async read(selector) {
    const { result } = await this.wire.send('Runtime.evaluate', { expression: `document.querySelector(${JSON.stringify(selector)})` });
    const { node: place } = await this.wire.send('DOM.describeNode', { objectId: result.objectId });
    const { nodes } = await this.wire.send('Accessibility.getFullAXTree');
    const byId = new Map(nodes.map((node) => [node.nodeId, node]));
    const words = [];
    const walk = (node) => {
      if (!node.ignored && ['StaticText', 'image', 'MathMLIdentifier', 'MathMLOperator', 'MathMLNumber'].includes(node.role?.value)) words.push(node.name?.value ?? '');
      for (const id of node.childIds ?? []) if (byId.has(id)) walk(byId.get(id));
    };
    const root = nodes.find((node) => node.backendDOMNodeId === place.backendNodeId);
    if (root) walk(root);
    return tidy(words.join(' '));
  }
}

/** Names of what a node stands in, the nearest first. */
function groupsOf(node, nodes) {
  const byId = new Map(nodes.map((one) => [one.nodeId, one]));
  const groups = [];
  for (let place = byId.get(node.parentId); place; place = byId.get(place.parentId)) {
    if (['group', 'region', 'figure', 'Details', 'article', 'form'].includes(place.role?.value) && place.name?.value) groups.push(tidy(place.name.value));
  }
  return groups;
}

/** States in the words of the scripts. */
function spokenStates({ invalid, expanded, checked, pressed, required, disabled, selected }) {
  const told = [];
  if (invalid && invalid !== 'false') told.push('invalid');
  if (expanded !== undefined) told.push(expanded ? 'expanded' : 'collapsed');
  if (checked !== undefined) told.push(checked === 'true' || checked === true ? 'checked' : 'not checked');
  if (pressed !== undefined) told.push(pressed === 'true' || pressed === true ? 'pressed' : 'not pressed');
  if (required) told.push('required');
  if (disabled) told.push('unavailable');
  if (selected) told.push('selected');
  return told;
}

/** In the page: notes the stop, and tells what is wrong with how its focus is seen. */
export function lookAtStop({ selector, name }) {
  window.stops.stop(selector);
  const control = document.activeElement;
  // A file input is seen as its label, and lies over it.
  const seen = control.type === 'file' ? control.nextElementSibling : control;
  const { outlineStyle, outlineWidth, outlineColor } = getComputedStyle(seen);
  // A place that Tab never comes to only holds the focus while what is in it changes: it is heard by its words.
  const place = control.tabIndex < 0;
  const wrong = [];
  if (!place && (outlineStyle === 'none' || Number.parseFloat(outlineWidth) < 2 || /, 0\)$/.test(outlineColor))) wrong.push('has no outline');
  const box = seen.getBoundingClientRect();
  const [left, right] = [Math.max(box.left, 0), Math.min(box.right, innerWidth)];
  const [top, bottom] = [Math.max(box.top, 0), Math.min(box.bottom, innerHeight)];
  if (right - left < 1 || bottom - top < 1) wrong.push('is outside the window');
  else {
    // Most of what lies in the window has to be free.
    const its = (x, y) => {
      const on = document.elementFromPoint(left + x * (right - left), top + y * (bottom - top));
      return on !== null && (seen.contains(on) || control.contains(on));
    };
    // What breaks over two lines has room beside it.
    const free = [0.1, 0.3, 0.5, 0.7, 0.9].filter((y) => [0.1, 0.5, 0.9].some((x) => its(x, y)));
    if (free.length < 3) {
      const over = document.elementFromPoint((left + right) / 2, top + 0.3 * (bottom - top));
      wrong.push(`is covered by ${over?.localName}.${over?.className} (${free.length} of 5 heights are free)`);
    }
  }
  return { wrong, name: name || (place ? control.textContent.trim() : ''), html: control.outerHTML.slice(0, 200) };
}
