import { writeQuantity } from '../../base/format-quantity.ts';
import { pointerParts, valueAt, type Json, type Patch } from '../../base/json-patch.ts';
import type { Unit } from '../../base/units.ts';
import type { Design } from '../../design/design.ts';
import { designJsonSchema } from '../../design/schema/design-schema.ts';
import { StudyError } from './shape.ts';

/** An input that a study may move: one field of the design, or several that move together. */
export interface StudyInput {
  /** The name or the JSON pointer it was asked for by. */
  readonly key: string;
  readonly label: string;
  readonly unit: Unit;
  /** The input's value is that of the first; the others keep their ratio to it. */
  readonly paths: readonly string[];
}

/** Names for what builders turn first; any other numeric field of the design goes by its JSON pointer. */
const NAMED: Readonly<Record<string, readonly [label: string, unit: Unit, paths: readonly string[]]>> = {
  drive: ['drive current', 'A', [...amplitudes('x'), ...amplitudes('y')]],
  'drive.x': ['X drive current', 'A', amplitudes('x')],
  'drive.y': ['Y drive current', 'A', amplitudes('y')],
  inhibit: ['inhibit current', 'A', ['/drive/inhibit/amplitude']],
  edges: ['drive edges', 's', ['/drive/x/rise', '/drive/x/fall', '/drive/y/rise', '/drive/y/fall']],
  'core.threshold': [
    'core thresholds',
    'A',
    [
      '/core/parameters/coerciveDrive',
      '/core/parameters/dynamicThreshold',
      '/core/parameters/decayThreshold',
    ],
  ],
  'core.flux': [
    'core flux',
    'Wb',
    // A bigger core of the same stuff: more flux, and more volts at the same drive.
    [
      '/core/parameters/remanentFlux',
      '/core/parameters/switchingResistance',
      '/core/parameters/decayResistance',
    ],
  ],
  'core.elastic': [
    'core elastic inductance',
    'H',
    ['/core/parameters/elasticKnee', '/core/parameters/elasticSaturated'],
  ],
  terminations: ['terminations', 'ohm', ['/terminations/a', '/terminations/b', '/terminations/joint']],
  threshold: ['threshold', 'V', ['/detector/threshold']],
  strobe: ['strobe', 's', ['/strobe/time']],
  temperature: ['temperature', '°C', ['/temperature']],
  stagger: ['X to Y stagger', 's', ['/cycle/stagger']],
  period: ['cycle period', 's', ['/cycle/period']],
};

function amplitudes(line: 'x' | 'y'): string[] {
  return ['readAmplitude', 'writeAmplitude', 'source/voltage'].map((name) => `/drive/${line}/${name}`);
}

export const NAMED_INPUTS: readonly string[] = Object.keys(NAMED);

/** Unit of the numeric field at a pointer, from the design's schema; undefined where there is no such field. */
export function unitAt(pointer: string): Unit | undefined {
  let node: unknown = designJsonSchema();
  for (const part of pointerParts(pointer) ?? ['']) node = valueAt(valueAt(node, '/properties'), `/${part}`);
  if (valueAt(node, '/x-kind') === 'ratio') return '1';
  return valueAt(node, '/x-unit') as Unit | undefined;
}

/** What an input may be called, as a sentence says it. */
export const INPUT_CHOICES = `${NAMED_INPUTS.join(', ')}, or the JSON pointer of a dimensional field such as /wire/mutualX`;

/** The input of a name (`drive.x`) or a JSON pointer (`/wire/mutualX`); undefined where there is none. */
export function findInput(key: string): StudyInput | undefined {
  const named = Object.hasOwn(NAMED, key) ? NAMED[key] : undefined;
  if (named) return { key, label: named[0], unit: named[1], paths: named[2] };
  const owner = Object.values(NAMED).find(([, , paths]) => paths.length === 1 && paths[0] === key);
  const unit = unitAt(key);
  return unit === undefined ? undefined : { key, label: owner?.[0] ?? words(key), unit, paths: [key] };
}

/** The input that a plan names. */
export function plannedInput(key: string): StudyInput {
  const found = findInput(key);
  if (found) return found;
  throw new StudyError(
    'bad-plan',
    '',
    `Inputs of a plan must be ${INPUT_CHOICES}; received ${JSON.stringify(key)}: plan the study again.`,
  );
}

/** `/drive/x/overshoot/fraction` reads `drive x overshoot fraction`; camel case is opened up. */
function words(pointer: string): string {
  return pointer
    .slice(1)
    .replace(/\//gu, ' ')
    .replace(/([a-z])([A-Z])/gu, (_, a: string, b: string) => `${a} ${b.toLowerCase()}`);
}

/** The input's value in a checked design; undefined where it is none (a strobe to be found, an open end). */
export function inputValue(input: StudyInput, design: Design): number | undefined {
  for (const path of input.paths) {
    const value = valueAt(design, path);
    if (typeof value === 'number' && Number.isFinite(value)) return value;
  }
  return undefined;
}

/** Patches that give the input a value. Of several fields, those open, shorted or absent are left alone. */
export function inputPatches(input: StudyInput, design: Design, value: number): Patch[] {
  const nominal = inputValue(input, design);
  return input.paths.flatMap((path) => {
    const own = valueAt(design, path);
    const known = typeof own === 'number' && Number.isFinite(own);
    if (input.paths.length > 1 && (!known || own === 0)) return [];
    const alike = !known || nominal === undefined || nominal === 0 || own === nominal;
    return [
      { path, value: quantityJson(alike ? value : (own * value) / nominal, unitAt(path) ?? input.unit) },
    ];
  });
}

/** A quantity as raw design JSON, exact: text with a unit, or a plain number for a ratio. */
export function quantityJson(value: number, unit: Unit): Json {
  return unit === '1' ? value : writeQuantity(value, unit);
}
