import { computed, signal, type ReadonlySignal } from '@preact/signals-core';
import type { Design } from '../../engine/design/design.ts';
import { readRanges, type AskedRanges } from '../../engine/fitting/unknown-ranges.ts';
import { UNKNOWNS, type UnknownName } from '../../engine/fitting/unknown-table.ts';
import { rangeOf } from '../../engine/fitting/unknowns.ts';

export const NAMES = Object.keys(UNKNOWNS) as UnknownName[];
/** What a first fit usually asks for: the bell's size and speed, and the spike beside it. */
const FIRST: readonly UnknownName[] = ['coreFlux', 'coreRate', 'mutual'];

export type RangePart = 'start' | 'low' | 'high';
type Typed = Readonly<Partial<Record<RangePart, string>>>;

/** What is wrong with one range, as the check says it. */
export interface RangeRefusal {
  readonly name: UnknownName;
  readonly part: RangePart;
  readonly message: string;
}

/** What a fit is to find out, and between which bounds. */
export interface Unknowns {
  /** Those ticked that the design in force has. */
  readonly chosen: ReadonlySignal<readonly UnknownName[]>;
  readonly refusal: ReadonlySignal<RangeRefusal | undefined>;
  tick(name: UnknownName, on: boolean): void;
  type(name: UnknownName, part: RangePart, text: string): void;
  /** Starts and bounds as typed for what is chosen; undefined when one cannot be read, which is then told beside it. */
  ranges(): AskedRanges | undefined;
  /** A refusal beside its field; false when it is about none of them. */
  refuse(field: string, message: string): boolean;
}

/** Unknowns that move a field which another chosen one moves too. */
export function rivalsOf(name: UnknownName, chosen: readonly UnknownName[]): UnknownName[] {
  const fields: readonly string[] = UNKNOWNS[name].fields;
  return chosen.filter(
    (other) =>
      other !== name && (UNKNOWNS[other].fields as readonly string[]).some((f) => fields.includes(f)),
  );
}

export function createUnknowns(design: ReadonlySignal<Design | undefined>): Unknowns {
  const ticked = signal<readonly UnknownName[]>(FIRST);
  const refusal = signal<RangeRefusal | undefined>(undefined);
  const typed = new Map<UnknownName, Typed>();
  const chosen = computed(() =>
    NAMES.filter(
      (name) => ticked.value.includes(name) && (!design.value || rangeOf(design.value, name) !== undefined),
    ),
  );

  function refuse(field: string, message: string): boolean {
    const [, place, name, part] = field.split('/');
    if (place !== 'ranges' || !NAMES.includes(name as UnknownName)) return false;
    const known = part === 'low' || part === 'high' ? part : 'start';
    refusal.value = { name: name as UnknownName, part: known, message };
    // Once it is drawn as the field at fault.
    requestAnimationFrame(() => document.getElementById(rangeId(name as UnknownName, known))?.focus());
    return true;
  }

  return {
    chosen,
    refusal,
    refuse,
    tick(name, on) {
      const others = chosen.value.filter((each) => each !== name);
      // Two of one field cannot be told apart: the newer choice stands.
      const rivals = on ? rivalsOf(name, others) : [];
      ticked.value = [...others.filter((each) => !rivals.includes(each)), ...(on ? [name] : [])];
    },
    type(name, part, text) {
      typed.set(name, { ...typed.get(name), [part]: text.trim() });
    },
    ranges() {
      refusal.value = undefined;
      const asked = chosen.value.flatMap((name) => {
        const parts = Object.entries(typed.get(name) ?? {}).filter(([, text]) => text !== '');
        return parts.length === 0 ? [] : [[name, Object.fromEntries(parts)] as const];
      });
      try {
        return readRanges(Object.fromEntries(asked));
      } catch (error) {
        const { field, message } = error as { field: string; message: string };
        refuse(field, message);
        return undefined;
      }
    },
  };
}

/** Where a start or bound is typed. */
export const rangeId = (name: UnknownName, part: RangePart): string => `bench-unknown-${name}-${part}`;
