import type { TimeSpan } from '../charts/spaces.ts';
import {
  BESIDE,
  EVIDENCE,
  HEARD,
  LANGUAGES,
  MAT_SHOWS,
  NARROW_VIEWS,
  PAPERS,
  PARTS,
  type Atoms,
} from './atoms.ts';
import { PLACES, type Place } from './place.ts';
import { decoded, pairText, quantity, readCore, readIn, readPair } from './url-values.ts';

/** Which design an address means: a demo by its name, one kept in this browser, or the whole of it in the address. */
export type DesignRef =
  | { readonly kind: 'demo'; readonly id: string }
  | { readonly kind: 'kept'; readonly id: string }
  | { readonly kind: 'whole'; readonly packed: string };

type Kept<K extends Exclude<keyof Atoms, 'checks'>> = Atoms[K]['value'];

/** All that an address says: `#/PLACE[/PART[/ID]][?params]`. What it leaves out is as at first. */
export interface UrlState {
  readonly place: Place;
  readonly design?: DesignRef;
  readonly core?: Kept<'core'>;
  readonly bit?: 0 | 1;
  readonly instant?: number;
  readonly span?: TimeSpan;
  readonly scale?: number;
  readonly heard?: Kept<'heard'>;
  readonly marks?: readonly [number, number];
  readonly open?: Kept<'open'>;
  readonly evidence?: Kept<'evidence'>;
  readonly matShows?: Kept<'matShows'>;
  readonly causes?: Kept<'causes'>;
  readonly find?: string;
  readonly narrowView?: Kept<'narrowView'>;
  readonly paper?: Kept<'view'>['paper'];
  readonly projector?: boolean;
  readonly beside?: Kept<'view'>['beside'];
  /** Left out: as the reader last chose. */
  readonly language?: Kept<'language'>;
}

export interface UrlReading {
  readonly state: UrlState;
  /** Parts that could not be read, as they stand in the address; the rest holds. */
  readonly bad: readonly string[];
}

export function readUrl(fragment: string): UrlReading {
  const [path = '', query = ''] = fragment.replace(/^\//, '').split(/\?(.*)/s);
  const [name = '', part = '', id = ''] = path.split('/').map(decoded);
  const bad: string[] = [];
  const known = PLACES.find((place) => place === name);
  if (!known && name !== '') bad.push(name);
  const params = new URLSearchParams(query);
  const take = <T>(key: string, read: (text: string) => T | undefined): T | undefined => {
    const text = params.get(key);
    if (text === null) return undefined;
    const value = read(text);
    if (value === undefined) bad.push(`${key}=${text}`);
    return value;
  };
  const word = <T extends string>(key: string, words: readonly T[]): T | undefined =>
    take(key, (text) => words.find((each) => each === text));
  // `#/plan/corners` is a name for what `show=corners` asks for.
  const evidencePart = EVIDENCE.find((set) => set === part);
  const state: UrlState = {
    place: { name: known ?? 'plan', part: evidencePart ? '' : part, id },
    design: take('d', readDesign),
    core: take('core', readCore),
    bit: take('bit', (text) => (text === '1' ? 1 : text === '0' ? 0 : undefined)),
    instant: take('t', (text) => readIn(text, 's')),
    span: take('span', (text) => {
      const pair = readPair(text, 's');
      return pair && pair[0] < pair[1] ? { from: pair[0], to: pair[1] } : undefined;
    }),
    scale: take('scale', (text) => readIn(text, 'V')),
    heard: word('at', HEARD),
    marks: take('marks', (text) => readPair(text, 's')),
    open: word('open', PARTS),
    evidence: evidencePart ?? word('show', EVIDENCE),
    matShows: word('mat', MAT_SHOWS),
    causes: word('causes', ['alone', 'up']),
    find: params.get('find') ?? undefined,
    narrowView: word('look', NARROW_VIEWS),
    paper: word('paper', PAPERS),
    language: word('lang', LANGUAGES),
    projector: params.get('view') === 'projector' || undefined,
    beside: word('beside', BESIDE),
  };
  return { state: withoutNothing(state), bad };
}

export function writeUrl(state: UrlState): string {
  const { name, part, id } = state.place;
  const path = [name, part, id].filter((step, i) => step !== '' || i === 0).map(encodeURIComponent);
  const { design, core, span, marks } = state;
  const params: Readonly<Record<string, string | undefined>> = {
    d: design && writeDesign(design),
    core: core && `${core.row}.${core.column}`,
    bit: state.bit === undefined ? undefined : String(state.bit),
    t: state.instant === undefined ? undefined : quantity(state.instant, 's'),
    span: span && pairText(span.from, span.to),
    scale: state.scale === undefined ? undefined : quantity(state.scale, 'V'),
    at: state.heard,
    marks: marks && pairText(...marks),
    open: state.open,
    show: state.evidence,
    mat: state.matShows,
    causes: state.causes,
    find: state.find,
    look: state.narrowView,
    paper: state.paper,
    lang: state.language,
    view: state.projector ? 'projector' : undefined,
    beside: state.beside,
  };
  const said = Object.entries(params).filter(([, value]) => value !== undefined && value !== '');
  const query = said
    .map(([key, value]) => `${key}=${encodeURIComponent(value!).replaceAll('%40', '@')}`)
    .join('&');
  return `/${path.join('/')}${query && `?${query}`}`;
}

function readDesign(text: string): DesignRef | undefined {
  if (/^@[\w-]+$/.test(text)) return { kind: 'demo', id: text.slice(1) };
  if (/^~[\w-]+$/.test(text)) return { kind: 'kept', id: text.slice(1) };
  return text.startsWith('s2-') ? { kind: 'whole', packed: text.slice(3) } : undefined;
}

const writeDesign = (ref: DesignRef): string =>
  ref.kind === 'demo' ? `@${ref.id}` : ref.kind === 'kept' ? `~${ref.id}` : `s2-${ref.packed}`;

const withoutNothing = (state: UrlState): UrlState =>
  Object.fromEntries(Object.entries(state).filter(([, value]) => value !== undefined)) as unknown as UrlState;
