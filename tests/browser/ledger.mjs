// What a walk through the page costs a person who reads: counted, not slept.
//
// Reading: 238 words a minute, the mean of adults reading non-fiction silently (Brysbaert 2019, How many words do we
// read per minute?, J. Memory and Language 109, 104047; value from memory). Hands and head: the keystroke-level model
// (Card, Moran & Newell 1980, Comm. ACM 23, 396; values from memory): a key of an average typist 0.28 s, pointing 1.1 s,
// a mouse button pressed and let go 0.2 s, the hand from mouse to keyboard or back 0.4 s, making up one's mind 1.35 s.

const WORDS_PER_SECOND = 238 / 60;
const [KEY, POINT, BUTTON, HAND, MIND] = [0.28, 1.1, 0.2, 0.4, 1.35];

export class Ledger {
  clicks = 0;
  keys = 0;
  words = 0;
  /** Seconds, by what they went into. */
  seconds = { reading: 0, pointing: 0, typing: 0, thinking: 0, page: 0 };
  /** One entry a step: what, clicks, keys, words, seconds. */
  steps = [];
  #known = new Set();
  #hand = 'mouse';

  constructor(page) {
    this.page = page;
  }

  /** A step of the walk: reads what is new around a control, decides, and then does `act`; the page's own time counts. */
  async step(what, control, act) {
    const before = { clicks: this.clicks, keys: this.keys, words: this.words, seconds: this.total };
    await control.waitFor();
    await control.scrollIntoViewIfNeeded();
    await this.read(control);
    this.seconds.thinking += MIND;
    const began = performance.now();
    await act();
    this.seconds.page += (performance.now() - began) / 1000;
    const spent = { clicks: this.clicks - before.clicks, keys: this.keys - before.keys, words: this.words - before.words };
    this.steps.push({ what, ...spent, seconds: this.total - before.seconds });
  }

  /** Reads the words in the window, in the same station as the control, that were not read before. */
  async read(control) {
    const texts = await control.evaluate((element) => {
      const place = element.closest('section.station, header') ?? document.body;
      const found = [];
      const walker = document.createTreeWalker(place, NodeFilter.SHOW_TEXT);
      const range = document.createRange();
      for (let node = walker.nextNode(); node; node = walker.nextNode()) {
        const text = node.textContent.replace(/\s+/g, ' ').trim();
        if (text === '' || node.parentElement.closest('option, .visually-hidden') || !node.parentElement.checkVisibility({ visibilityProperty: true })) continue;
        range.selectNodeContents(node);
        const { top, bottom, width } = range.getBoundingClientRect();
        if (width > 0 && bottom > 0 && top < innerHeight) found.push(text);
      }
      return found;
    });
    for (const text of texts) {
      if (this.#known.has(text)) continue;
      this.#known.add(text);
      this.look(text);
    }
  }

  /** Reads a text. */
  look(text) {
    const words = text.split(' ').filter((word) => /[\p{L}\p{N}]/u.test(word)).length;
    this.words += words;
    this.seconds.reading += words / WORDS_PER_SECOND;
  }

  #take(hand) {
    if (this.#hand !== hand) this.seconds.pointing += HAND;
    this.#hand = hand;
  }

  /** Clicks that happen where the page does not see them, as in a file dialog, or that a driver does in one go. */
  count(clicks) {
    this.#take('mouse');
    this.clicks += clicks;
    this.seconds.pointing += clicks * (POINT + BUTTON);
  }

  async click(control) {
    this.count(1);
    await control.click();
  }

  async press(...keys) {
    this.#take('keyboard');
    for (const key of keys) {
      this.keys += key.split('+').length;
      this.seconds.typing += KEY * key.split('+').length;
      await this.page.keyboard.press(key);
    }
  }

  async type(text) {
    this.#take('keyboard');
    this.keys += text.length;
    this.seconds.typing += KEY * text.length;
    await this.page.keyboard.type(text);
  }

  /** Goes to a choice of a menu: a click that opens it, one on the choice, whose words are read. */
  async choose(menu, label) {
    this.count(2);
    for (const option of await menu.locator('option').allInnerTexts()) this.look(option);
    await menu.selectOption({ label });
  }

  get total() {
    return Object.values(this.seconds).reduce((sum, part) => sum + part, 0);
  }

  /** The ledger in lines. */
  told() {
    const { reading, pointing, typing, thinking, page } = this.seconds;
    const s = (seconds) => `${seconds.toFixed(0)} s`;
    return [
      `${(this.total / 60).toFixed(1)} minutes, ${this.clicks} clicks, ${this.keys} keystrokes, ${this.words} words read`,
      `reading ${s(reading)}, pointing ${s(pointing)}, typing ${s(typing)}, thinking ${s(thinking)}, the page itself ${page.toFixed(1)} s`,
      ...this.steps.map(({ what, clicks, keys, words, seconds }) => `${what}: ${s(seconds)}, ${clicks} clicks, ${keys} keys, ${words} words`),
    ];
  }
}
