import { valueAt as fieldAt } from '../base/json-patch.ts';
import { designToJson } from '../design/design-to-json.ts';
import type { Design } from '../design/design.ts';
import { listDesignFields } from '../design/list-design-fields.ts';

/** A field that decides and was not given, and how far it may honestly be off. */
export interface AssumedField {
  /** JSON pointer into the design. */
  readonly field: string;
  /** What of the field is open, where it holds more than one number. */
  readonly of?: string;
  /** SI. */
  readonly value: number;
  readonly from: 'given' | 'measured' | 'geometry' | 'handbook' | 'preset' | 'default';
  /** SI: ends of the range. */
  readonly low: number;
  readonly high: number;
}

/**
 * How far a default may honestly be off, as factors of it. Our own judgement (no source): twice either way where a value
 * depends on how a mat is laid out, a third where a part's type decides it.
 */
const RANGES: Readonly<Record<string, readonly [number, number]>> = {
  '/wire/resistancePerCore': [0.8, 1.25],
  '/wire/inductancePerCore': [0.7, 1.4],
  '/wire/capacitancePerCore': [0.5, 2],
  '/wire/lossTime': [0.3, 3],
  '/wire/mutualX': [0.5, 2],
  '/wire/mutualY': [0.5, 2],
  '/wire/couplingCapacitance': [0.5, 2],
  '/drive/x/rise': [0.7, 1.5],
  '/drive/y/rise': [0.7, 1.5],
  '/amplifier/bandwidth': [0.7, 1.5],
  '/amplifier/recovery': [0.3, 3],
  '/amplifier/commonModeRejection': [0.7, 1.3],
  '/detector/uncertainty': [0.5, 2],
  '/detector/hysteresis': [0.5, 2],
  '/tolerances/drive': [0.5, 2],
  '/tolerances/supply': [0.5, 2.5],
  '/tolerances/temperature': [0.67, 1.67],
  '/tolerances/threshold': [0.5, 2],
};

/** Fields that were left to a default or worked out, in the order of a design file. */
export function assumedFields(design: Design): AssumedField[] {
  const file = designToJson(design);
  return listDesignFields().flatMap(({ pointer, default: usual }) => {
    const value = fieldAt(design, pointer);
    if (RANGES[pointer] === undefined || typeof value !== 'number' || !Number.isFinite(value) || value === 0)
      return [];
    const from = design.filled[pointer]?.from;
    const left = from !== undefined || (usual !== undefined && sameText(fieldAt(file, pointer), usual));
    const [low, high] = RANGES[pointer].map((factor) => value * factor) as [number, number];
    return left ? [{ field: pointer, value, from: from ?? 'default', low, high }] : [];
  });
}

/** 40 ns and 0.04 us need not be the same text; a design written anew has the default's own spelling. */
const sameText = (value: unknown, usual: unknown): boolean =>
  value === usual || JSON.stringify(value) === JSON.stringify(usual);
