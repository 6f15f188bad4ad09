// Reads the scripts of `scripts/`: a line of words becomes what is to be done. The lines are told in scripts/README.md.

const QUOTED = '"([^"]*)"';
const HEARD = new RegExp(`^hear (\\w+) ${QUOTED}(.*)$`);
const STATES = ['invalid', 'expanded', 'collapsed', 'checked', 'not checked', 'pressed', 'not pressed', 'unavailable', 'required'];

/** The text of a script as steps, each with the number of its line. */
export function steps(text) {
  return text.split('\n').flatMap((line, index) => {
    const words = line.trim();
    if (words === '' || words.startsWith('#')) return [];
    const step = read(words);
    if (!step) throw new Error(`line ${index + 1} is not understood: ${words}`);
    return [{ ...step, line: index + 1, words }];
  });
}

function read(words) {
  let found;
  if ((found = /^station (.+)$/.exec(words))) return { does: 'station', name: found[1] };
  if ((found = /^begin with the (empty page|example lab)$/.exec(words))) return { does: 'begin', on: found[1] };
  if ((found = /^go to (.+)$/.exec(words))) return { does: 'go', name: found[1] };
  if ((found = new RegExp(`^(Tab|Shift\\+Tab) to (\\w+) ${QUOTED}$`).exec(words))) return { does: 'tab', key: found[1], role: found[2], name: found[3] };
  if ((found = /^(?:press )?(\S+?)(?: (\d+) times)?(?:, and (.+))?$/.exec(words)) && (words.startsWith('press ') || /^(Shift\+)?Tab\b/.test(words))) {
    const then = found[3] === undefined ? null : consequence(found[3]);
    return then === undefined ? null : { does: 'press', key: found[1], times: Number(found[2] ?? 1), then };
  }
  if ((found = /^type (.+)$/.exec(words))) return { does: 'type', text: found[1] };
  if ((found = /^paste (\S+)$/.exec(words))) return { does: 'paste', file: found[1] };
  if (words === 'hear nothing said') return { does: 'silence' };
  if (words === 'hear nothing unasked') return { does: 'unasked' };
  if ((found = new RegExp(`^hear said ${QUOTED}$`).exec(words))) return { does: 'said', text: found[1] };
  if ((found = HEARD.exec(words))) return heard(found);
  if ((found = new RegExp(`^read ${QUOTED}$`).exec(words))) return { does: 'read', text: found[1] };
  return null;
}

function consequence(words) {
  let found;
  if ((found = new RegExp(`^answer (yes|no) to ${QUOTED}$`).exec(words))) return { question: found[2], yes: found[1] === 'yes' };
  if ((found = new RegExp(`^get the file ${QUOTED}$`).exec(words))) return { file: found[1] };
  if ((found = /^choose (\S+(?: \S+)*)$/.exec(words))) return { choose: found[1].split(' ') };
  return undefined;
}

function heard([, role, name, more]) {
  const wanted = { does: 'hear', role, name, states: [] };
  const parts = more.match(/, (?:(value|described|in) "([^"]*)"|[a-z ]+)/g) ?? [];
  if (parts.join('') !== more) return null;
  for (const part of parts) {
    const [, kind, text] = /^, (value|described|in) "([^"]*)"$/.exec(part) ?? [];
    const state = part.slice(2);
    if (kind) wanted[kind === 'in' ? 'within' : kind] = text;
    else if (STATES.includes(state)) wanted.states.push(state);
    else return null;
  }
  return wanted;
}

/** Whether words are what a script expects: `*` stands for any. */
export function fits(expected, words) {
  const plain = (text) => text.replace(/\s+/g, ' ').trim();
  const pieces = plain(expected).split('*').map((piece) => piece.replace(/[.+?^${}()|[\]\\]/g, '\\$&'));
  return new RegExp(`^${pieces.join('.*')}$`, 's').test(plain(words));
}
