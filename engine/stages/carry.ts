import { formatQuantity, writeQuantity } from '../base/format-quantity.ts';
import { applyPatches, type Json } from '../base/json-patch.ts';
import { checkDesign } from '../check/check-design.ts';
import { designToJson } from '../design/design-to-json.ts';
import type { Design } from '../design/design.ts';
import { UNKNOWNS, type UnknownName } from '../fitting/unknown-table.ts';
import { numberAt } from '../fitting/unknowns.ts';
import { stagesOf, type StageName } from './stage.ts';

/** One value that a stage's captures found, and whether the final design takes it over. */
export interface Carried {
  readonly unknown: UnknownName;
  readonly meaning: string;
  readonly unit: (typeof UNKNOWNS)[UnknownName]['unit'];
  /** Of the first of its fields, SI: as derived and as fitted. */
  readonly from: number;
  readonly to: number;
  /** Undefined where it is taken over; else why it stays with its stage. */
  readonly stays: string | undefined;
}

/** A value of the build itself is the same in every stage; leads, and a probe, are a stage's own. */
const OF_LEADS = 'leads of the stage are its own';
const UNDER_LEADS = 'a capture through loose leads cannot tell it from what the leads couple';
const NOT_THERE = 'it is not there in this stage';

const STAYS: Readonly<Record<Exclude<StageName, 'whole'>, Partial<Record<UnknownName, string>>>> = {
  rig: {
    mutual: UNDER_LEADS,
    mutualX: UNDER_LEADS,
    mutualY: UNDER_LEADS,
    couplingCapacitance: UNDER_LEADS,
    leadCoupling: OF_LEADS,
    amplifierGain: NOT_THERE,
    amplifierBandwidth: NOT_THERE,
    amplifierSecondPole: NOT_THERE,
    amplifierHighPass: NOT_THERE,
    inhibitAmplitude: NOT_THERE,
  },
  mat: { leadCoupling: OF_LEADS },
  word: { leadCoupling: OF_LEADS },
};

/** What moves several fields comes before what moves one of them. */
const WIDEST_FIRST = (Object.keys(UNKNOWNS) as UnknownName[]).sort(
  (a, b) => UNKNOWNS[b].fields.length - UNKNOWNS[a].fields.length,
);

/** More than rounding. */
const MOVED = 1e-9;

/**
 * What captures of a stage have found, taken over into the design that the stage was derived from: the fitted stage
 * beside the stage as derived shows what the fit moved; what belongs to core, wires, drivers and amplifier goes over,
 * what belongs to the stage alone stays, each with its reason.
 * @param fitted the stage's design as a fit wrote it
 */
export function carryOver(
  design: Design,
  name: Exclude<StageName, 'whole'>,
  fitted: Design,
): { readonly design: Design; readonly carried: readonly Carried[] } {
  const stage = stagesOf(design).find((each) => each.name === name)?.design ?? design;
  const moved = (field: string): boolean => {
    const [from, to] = [numberAt(stage, field), numberAt(fitted, field)];
    return from !== to && Math.abs(to - from) > MOVED * Math.max(Math.abs(from), Math.abs(to));
  };
  const told = new Set<string>();
  const carried = WIDEST_FIRST.flatMap((unknown): Carried[] => {
    const { fields, unit, meaning } = UNKNOWNS[unknown];
    if (!fields.every(moved) || fields.every((field) => told.has(field))) return [];
    for (const field of fields) told.add(field);
    const [from, to] = [numberAt(stage, fields[0]), numberAt(fitted, fields[0])];
    return [{ unknown, meaning, unit, from, to, stays: STAYS[name][unknown] }];
  });
  const over = carried.filter(({ stays }) => stays === undefined);
  const file = applyPatches(
    designToJson(design) as Json,
    over.flatMap(({ unknown, unit }) =>
      UNKNOWNS[unknown].fields.map((path) => {
        const value = numberAt(fitted, path);
        return { path, value: unit === '1' ? value : writeQuantity(value, unit) };
      }),
    ),
  );
  return { design: checkDesign(file), carried };
}

/** "remanent flux of a core: 2.7 nWb, found 2.61 nWb; taken over". */
export function carriedSentence({ meaning, unit, from, to, stays }: Carried): string {
  const told = (value: number): string => formatQuantity(value, unit, 3);
  return `${meaning}: ${told(from)}, found ${told(to)}; ${stays === undefined ? 'taken over' : `stays: ${stays}`}`;
}
