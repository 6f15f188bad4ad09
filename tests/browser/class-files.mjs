// The files of a class that shares one banding wheel: 24 runs, each as another logger writes it, and their truth.
//
// Twelve are the runs of tests/labs/twelve written anew; twelve more are simulated here, from Newton's second
// law alone, with the truth of that lab: a = (m g R − τ) R / (I + m R²). Same seed, same files.

import { readFile } from 'node:fs/promises';

const twelve = new URL('../labs/twelve/', import.meta.url);

/** What was put into the files of tests/labs/twelve, and here. */
export const truth = JSON.parse(await readFile(new URL('truth.json', twelve), 'utf8'));

/** The lab a teacher hands out: apparatus and ring measured, no runs. */
export async function preparedLab() {
  const lab = JSON.parse(await readFile(new URL('lab.json', twelve), 'utf8'));
  return JSON.stringify({ ...lab, title: 'The class at the banding wheel', runs: [] });
}

/** Evenly spread numbers from 0 to 1, always the same (mulberry32). */
function spread(seed) {
  let state = seed;
  return () => {
    state = (state + 0x6d2b79f5) | 0;
    let mixed = Math.imul(state ^ (state >>> 15), 1 | state);
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed;
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 2 ** 32;
  };
}

const random = spread(20);

/** A number from the standard normal distribution (Box and Muller). */
const normal = () => Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random());

const Re = truth.effective_radius_m;
const { travel, gravity, mass_factor } = truth.apparatus;

/** A release of so many kilograms: rest, free fall, and a wheel that slows down by itself. */
function release(load, kilograms) {
  const inertia = truth.table_kg_m2 + (load === 'ring' ? truth.objects_kg_m2['brass ring'] : 0);
  const friction = truth.friction_torque_N_m[load] * (1 + 0.025 * normal());
  const mass = kilograms * mass_factor;
  const a = ((mass * gravity * Re - friction) * Re) / (inertia + mass * Re ** 2);
  const start = 0.6 + 0.4 * random();
  const drop = 0.85;
  const falling = Math.sqrt((2 * drop) / a);
  const slowing = (a * drop) / 0.07;
  const braking = (a * falling) / slowing;
  const within = (t, most) => Math.min(Math.max(t - start, 0), most);
  const parts = (t) => [within(t, falling), within(t - falling, braking)];
  return {
    position: (t) => parts(t).reduce((x, part, i) => x + (i === 0 ? (a * part ** 2) / 2 : (a * falling - (slowing * part) / 2) * part), 0),
    velocity: (t) => parts(t).reduce((v, part, i) => v + (i === 0 ? a : -slowing) * part, 0),
    acceleration: (t) => (t < start || t > start + falling + braking ? 0 : t < start + falling ? a : -slowing),
    end: start + falling + braking + 0.4,
    /** When the string has run so far, until the mass lands. */
    time: (x) => (x < drop ? start + Math.sqrt((2 * x) / a) : undefined),
  };
}

/** Samples every `every` seconds: rows of a time and what is measured, with its noise. */
function sampled(fall, every, measured, noise) {
  const rows = [];
  for (let t = 0; t < fall.end; t += every) rows.push([t, measured(t) + noise * normal()]);
  return rows;
}

/** How far each spoke of the pulley sits off its place, m: as numpy/make_twelve.py drew them for its runs. */
const SPOKES = [17.1, 28.4, -2.4, 23.3, -21.4, 1.5, -30.0, -5.1, 1.5, -12.8].map((micrometers) => micrometers * 1e-6);

/** When each spoke closes the gate and when it opens it again, 0.4 of the spacing further on. */
function edges(fall, share) {
  const times = [];
  const first = travel * (0.2 + 0.7 * random());
  const turned = Math.floor(SPOKES.length * random());
  for (let spoke = 0; ; spoke += 1) {
    const place = first + spoke * travel + SPOKES[(turned + spoke) % SPOKES.length];
    const [closes, opens] = [0, share].map((on) => fall.time(place + on * travel + 15e-6 * normal()));
    if (opens === undefined) return times;
    times.push([closes, opens]);
  }
}

const KINDS = {
  gates: (fall) => edges(fall, 0.4).map(([closes]) => [closes]),
  states: (fall) => edges(fall, 0.4).flatMap(([closes, opens]) => [[closes, 1], [opens, 0]]),
  edges: (fall) => edges(fall, 0.4),
  intervals: (fall) => edges(fall, 0.4).map(([closes], spoke, all) => [closes - (all[spoke - 1]?.[0] ?? NaN)]).slice(1),
  position: (fall) => sampled(fall, 0.04, fall.position, 3e-4),
  velocity: (fall) => sampled(fall, 0.05, fall.velocity, 2e-3),
  acceleration: (fall) => sampled(fall, 0.02, fall.acceleration, 2e-3),
  angle: (fall) => sampled(fall, 0.04, (t) => fall.position(t) / Re, 0.01),
  turning: (fall) => sampled(fall, 0.05, (t) => fall.velocity(t) / Re, 0.08),
};

/** The rows of a run of tests/labs/twelve, in SI units. */
async function written(file) {
  const text = (await readFile(new URL(`runs/${file}`, twelve), 'utf8')).replace('\ufeff', '');
  const lines = text.trim().split(/\r?\n/).filter((line) => !line.startsWith('#'));
  const [head, ...rows] = lines;
  const time = head.includes('[ms]') ? 1e-3 : 1;
  const other = head.includes('mm') ? 1e-3 : 1;
  const between = head.includes(';') ? ';' : ',';
  return rows.map((row) => {
    const cells = row.split(between).map((cell) => Number(cell.replace(',', '.')));
    return cells.length === 1 ? [cells[0]] : [cells[0] * time, cells.at(-1) * other];
  });
}

/** Windows-1252 agrees with Latin-1 in every letter that stands here. */
const ENCODINGS = {
  'utf-8': (text) => Buffer.from(text, 'utf8'),
  'utf-8 with a mark': (text) => Buffer.from(`\ufeff${text}`, 'utf8'),
  'utf-16le': (text) => Buffer.from(`\ufeff${text}`, 'utf16le'),
  'utf-16be, no mark': (text) => Buffer.from(text, 'utf16le').swap16(),
  'windows-1252': (text) => Buffer.from(text, 'latin1'),
};

/**
 * Rows as a text: `heads` above, each column multiplied by its `scale` and written with so many `places`.
 * `before` stands above the heads, `first` before every row.
 */
function write(rows, { heads, between = ',', mark = '.', scale = [1, 1], places = [3, 4], before = '', end = '\n', minus = '-', as = 'utf-8' }) {
  const cell = (value, column) => (value * scale[column]).toFixed(places[column]).replace('.', mark).replace('-', minus);
  const lines = [...(Array.isArray(heads) ? heads : [heads]), ...rows.map((row) => row.map(cell).join(between))];
  return ENCODINGS[as](before + lines.join(end) + end);
}

const DEGREES = 180 / Math.PI;
const RPM = 30 / Math.PI;

// Name of the file; the run of tests/labs/twelve, or load, mass in kilograms and kind; how it is written.
const FILES = [
  ['leer-15g.txt', 'empty-015g.csv', { heads: 'Zeit (s)', mark: ',', places: [5] }],
  ['vide-20g.csv', 'empty-020g.csv', { heads: 'temps (s);vitesse (cm/s)', between: ';', mark: ',', scale: [1, 100], places: [2, 2], as: 'windows-1252' }],
  ['vacío 25 g.tsv', 'empty-025g.csv', { heads: 'tiempo (ms)\tposición (cm)', between: '\t', scale: [1000, 100], places: [0, 2] }],
  ['empty-0.030kg.csv', 'empty-030g.csv', { heads: 'spoke time (ms)', scale: [1000], places: [2], before: '# banding wheel\n# gate over the pulley\n' }],
  ['tavolo_vuoto_40g.csv', 'empty-040g.csv', { heads: ['tempo;velocità', '[s];[mm/s]'], between: ';', mark: ',', scale: [1, 1000], places: [2, 1], end: '\r\n' }],
  ['Empty table 50 grams.txt', 'empty-050g.csv', { heads: 't/s x/m', between: ' ', places: [2, 5] }],
  ['Messingring-50g.csv', 'ring-050g.csv', { heads: 'Zeit in s;Weg in mm', between: ';', mark: ',', scale: [1, 1000], places: [2, 1], as: 'utf-16le' }],
  ['ring-80g.txt', 'ring-080g.csv', { heads: 'micros', scale: [1e6], places: [0] }],
  ['Ring_110g.csv', 'ring-110g.csv', { heads: '"Zeit (s)";"Geschwindigkeit (m/s)"', between: ';', mark: ',', places: [2, 4], minus: '−', as: 'utf-8 with a mark' }],
  ['brass ring 150g.csv', 'ring-150g.csv', { heads: 'gate time (s)', places: [5], end: '\r' }],
  ['brass_190g.txt', 'ring-190g.csv', { heads: 't (s) | v (m/s)', between: ' | ', places: [2, 4] }],
  ['ring 0,24kg.csv', 'ring-240g.csv', { heads: 'time (s),distance (mm)', scale: [1, 1000], places: [2, 2] }],
  ['leer 18g.csv', ['empty', 0.018, 'states'], { heads: 'Zeit (s);Lichtschranke (1 = zu)', between: ';', mark: ',', places: [5, 0] }],
  ['empty-22g.txt', ['empty', 0.022, 'intervals'], { heads: 'interval (µs)', scale: [1e6], places: [0], as: 'windows-1252' }],
  ['à vide 28 g.csv', ['empty', 0.028, 'angle'], { heads: 'temps (s);angle (°)', between: ';', mark: ',', scale: [1, DEGREES], places: [2, 1], as: 'windows-1252' }],
  ['vacio-35g.csv', ['empty', 0.035, 'turning'], { heads: 'tiempo (s);velocidad angular (rad/s)', between: ';', mark: ',', places: [2, 3] }],
  ['vuoto-45g.csv', ['empty', 0.045, 'acceleration'], { heads: 'tempo (s);accelerazione (m/s²)', between: ';', mark: ',', places: [2, 4], end: '\r\n' }],
  ['leer_55g.csv', ['empty', 0.055, 'edges'], { heads: 'zu (s);auf (s)', between: ';', mark: ',', places: [5, 5] }],
  ['ring-65g.csv', ['ring', 0.065, 'turning'], { heads: 'time (s),rotation rate (rpm)', scale: [1, RPM], places: [2, 1] }],
  ['Messingring 95 g.txt', ['ring', 0.095, 'angle'], { heads: 'Zeit (s)\tDrehwinkel (rad)', between: '\t', mark: ',', places: [2, 3], as: 'utf-16be, no mark' }],
  ['ring_130g.csv', ['ring', 0.13, 'states'], { heads: 'time (ms),state', scale: [1000, 1], places: [2, 0] }],
  ['brass-170g.txt', ['ring', 0.17, 'intervals'], { heads: 'Zeitdifferenz (ms)', mark: ',', scale: [1000], places: [2] }],
  ['ring-210g.csv', ['ring', 0.21, 'position'], { heads: ['time,position', 's,cm'], scale: [1, 100], places: [2, 2], before: 'Title: banding wheel with ring\n\n' }],
  ['Ring 250 Gramm.csv', ['ring', 0.25, 'velocity'], { heads: 'sep=;\nt (s);v (m/s);', between: ';', mark: ',', places: [2, 4], end: '\r\n' }],
];

/** The 24 files of the class, `{ name, mimeType, buffer }`. */
export async function classFiles() {
  const files = [];
  for (const [name, run, dialect] of FILES) {
    const rows = typeof run === 'string' ? await written(run) : KINDS[run[2]](release(run[0], run[1]));
    files.push({ name, mimeType: 'text/csv', buffer: write(rows, dialect) });
  }
  return files;
}

/** Gate times of one run that begins at rest, one per spoke of 15 mm, falling at 0.2 m/s²; the mass is in the name. */
export function gateTimes() {
  const times = Array.from({ length: 40 }, (_, spoke) => Math.sqrt((2 * 0.015 * (spoke + 1)) / 0.2).toFixed(6));
  return { name: 'empty-20g.csv', mimeType: 'text/csv', buffer: Buffer.from(['time (s)', ...times, ''].join('\n')) };
}
