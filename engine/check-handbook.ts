import { HandbookError, type CoreHandbook } from './core-handbook.ts';
import { readQuantity, DIMENSIONS, type Unit } from './units.ts';

type Field = keyof CoreHandbook;
interface FieldRule {
  readonly unit: Unit;
  readonly required: boolean;
  readonly example: string;
}

/** Every field of a handbook file: dimensional values are text with a unit, ratios are plain numbers. */
const FIELDS: Readonly<Record<Field, FieldRule>> = {
  fullDrive: { unit: 'A', required: true, example: '"740 mA"' },
  rise: { unit: 's', required: true, example: '"50 ns"' },
  peakOne: { unit: 'V', required: true, example: '"50 mV"' },
  peakTime: { unit: 's', required: true, example: '"125 ns"' },
  switchTime: { unit: 's', required: true, example: '"235 ns"' },
  disturbRatio: { unit: '1', required: false, example: '0.6' },
  halfSelectOne: { unit: 'V', required: false, example: '"6 mV"' },
  halfSelectZero: { unit: 'V', required: false, example: '"5 mV"' },
  disturbedZero: { unit: 'V', required: false, example: '"9 mV"' },
  dynamicThreshold: { unit: 'A', required: false, example: '"500 mA"' },
  coerciveDrive: { unit: 'A', required: false, example: '"480 mA"' },
  driveTemperatureCoefficient: { unit: '1/K', required: false, example: '"-0.5 %/K"' },
  fluxTemperatureCoefficient: { unit: '1/K', required: false, example: '"-0.1 %/K"' },
  outsideDiameter: { unit: 'm', required: true, example: '"20 mil"' },
  insideDiameter: { unit: 'm', required: true, example: '"12 mil"' },
  height: { unit: 'm', required: true, example: '"5 mil"' },
};

/** Who says so: carried by a handbook file beside its numbers, not used in the calculation. */
export interface HandbookSource {
  readonly name: string;
  readonly source: string;
  /** Grade and source of single fields, where they differ. */
  readonly grades: Readonly<Record<string, string>>;
}

const TEXTS = new Set(['$schema', 'name', 'source', 'note', 'grades']);

/** What is read off captures of a core on a jig, and so must not stand beside them. */
const READ_OFF = ['peakOne', 'peakTime', 'switchTime', 'disturbedZero'] as const;
type ReadOff = (typeof READ_OFF)[number];

/**
 * Read a handbook file: unknown in, SI values out. Throws HandbookError with `field` as a JSON pointer and one
 * sentence: what, requirement with unit, value received, remedy.
 */
export function checkHandbook(raw: unknown): {
  readonly handbook: CoreHandbook;
  readonly from: HandbookSource;
} {
  const { values, from } = readFile(raw, []);
  return { handbook: values as CoreHandbook, from };
}

/** The same for what is known of a core beside captures of it: drive, rise, size and what else was measured. */
export function checkJig(raw: unknown): {
  readonly settings: Omit<CoreHandbook, ReadOff>;
  readonly from: HandbookSource;
} {
  const { values, from } = readFile(raw, READ_OFF);
  return { settings: values as Omit<CoreHandbook, ReadOff>, from };
}

function readFile(
  raw: unknown,
  measured: readonly Field[],
): { readonly values: Partial<Record<Field, number>>; readonly from: HandbookSource } {
  if (typeof raw !== 'object' || raw === null || Array.isArray(raw)) {
    throw new HandbookError(
      '',
      `A handbook must be a JSON object, but is ${kindOf(raw)}: write { "fullDrive": … }.`,
    );
  }
  const given = raw as Record<string, unknown>;
  for (const key of Object.keys(given)) {
    if (TEXTS.has(key) || Object.hasOwn(FIELDS, key)) continue;
    const known = Object.keys(FIELDS).join(', ');
    throw new HandbookError(
      pointer(key),
      `A handbook must hold known fields only, but has ${JSON.stringify(key.slice(0, 40))}: the fields are ${known}.`,
    );
  }
  const values: Partial<Record<Field, number>> = {};
  for (const [field, rule] of Object.entries(FIELDS) as [Field, FieldRule][]) {
    const value = given[field];
    if (measured.includes(field)) {
      if (value === undefined) continue;
      throw new HandbookError(
        pointer(field),
        `${field} is read off the capture, but is given as well: leave it out, or leave out the captures.`,
      );
    }
    if (value === undefined) {
      if (!rule.required) continue;
      throw new HandbookError(
        pointer(field),
        `${field} must be given as ${DIMENSIONS[rule.unit]}, but is missing: write "${field}": ${rule.example}.`,
      );
    }
    values[field] = readField(field, rule, value);
  }
  const text = (key: string): string => (typeof given[key] === 'string' ? given[key] : '');
  return {
    values,
    from: { name: text('name'), source: text('source'), grades: gradesOf(given.grades) },
  };
}

function readField(field: Field, rule: FieldRule, value: unknown): number {
  const need = `${field} must be ${DIMENSIONS[rule.unit]}`;
  if (rule.unit === '1') {
    if (typeof value === 'number' && Number.isFinite(value)) return value;
    throw new HandbookError(pointer(field), `${need}, but is ${kindOf(value)}: write ${rule.example}.`);
  }
  if (typeof value !== 'string') {
    throw new HandbookError(
      pointer(field),
      `${need} with its unit (${rule.unit}), but is ${kindOf(value)}: write ${rule.example}.`,
    );
  }
  const reading = readQuantity(value, rule.unit);
  if (reading.ok) return reading.value;
  throw new HandbookError(
    pointer(field),
    `${need} with its unit (${rule.unit}), but ${reading.why}: write it like ${rule.example}.`,
  );
}

function gradesOf(raw: unknown): Record<string, string> {
  if (typeof raw !== 'object' || raw === null) return {};
  return Object.fromEntries(
    Object.entries(raw).filter((e): e is [string, string] => typeof e[1] === 'string'),
  );
}

const pointer = (key: string): string => `/${key.slice(0, 40).replaceAll('~', '~0').replaceAll('/', '~1')}`;

function kindOf(value: unknown): string {
  if (value === null) return 'null';
  if (Array.isArray(value)) return 'a list';
  if (typeof value === 'number') return `the bare number ${value}`;
  if (typeof value === 'string') return JSON.stringify(value.slice(0, 40));
  return typeof value === 'object' ? 'an object' : `a ${typeof value}`;
}
