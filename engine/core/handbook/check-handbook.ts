import type * as z from 'zod';
import { HandbookError, type CoreHandbook } from './values.ts';
import { DesignError, jsonPointer } from '../../design/design-error.ts';
import { nearestName } from '../../design/field-names.ts';
import { plainCopy } from '../../design/plain-copy.ts';
import { handbookSchema } from '../../design/schema/core.ts';
import { received } from '../../design/schema/fields.ts';

/** Who says so: carried by a handbook file beside its numbers, not used in the calculation. */
export interface HandbookSource {
  readonly name: string;
  readonly source: string;
  /** Grade and source of single fields, where they differ. */
  readonly grades: Readonly<Record<string, string>>;
}

/** What is read off captures of a core on a jig, and so must not stand beside them. */
const READ_OFF = { peakOne: true, peakTime: true, switchTime: true, disturbedZero: true } as const;
type ReadOff = keyof typeof READ_OFF;

/**
 * Read a handbook file: unknown in, SI values out, by the same schema as the handbook within a design. Throws
 * HandbookError with `field` as a JSON pointer and one sentence: what, requirement with unit, value received, remedy.
 */
export function checkHandbook(raw: unknown): {
  readonly handbook: CoreHandbook;
  readonly from: HandbookSource;
} {
  const [handbook, from] = apart(read(handbookSchema, objectOf(raw)));
  return { handbook, from };
}

/** The same for what is known of a core beside captures of it: drive, rise, size and what else was measured. */
export function checkJig(raw: unknown): {
  readonly settings: Omit<CoreHandbook, ReadOff>;
  readonly from: HandbookSource;
} {
  const given = objectOf(raw);
  const twice = Object.keys(READ_OFF).find((field) => given[field] !== undefined);
  if (twice !== undefined)
    throw new HandbookError(
      `/${twice}`,
      `${twice} is read off the capture, but is given as well: leave it out, or leave out the captures.`,
    );
  const [settings, from] = apart(read(handbookSchema.omit(READ_OFF), given));
  return { settings, from };
}

function objectOf(raw: unknown): Readonly<Record<string, unknown>> {
  if (typeof raw !== 'object' || raw === null || Array.isArray(raw))
    throw new HandbookError(
      '',
      `A handbook must be a JSON object, but ${received(raw)}: write { "fullDrive": … }.`,
    );
  try {
    return plainCopy(raw) as Readonly<Record<string, unknown>>;
  } catch (error) {
    if (!(error instanceof DesignError)) throw error;
    throw new HandbookError(error.field, error.message.replace(/^The design/u, 'The handbook'));
  }
}

function read<Shape>(schema: z.ZodType<Shape>, given: Readonly<Record<string, unknown>>): Shape {
  const reading = schema.safeParse(given);
  if (reading.success) return reading.data;
  const { issues } = reading.error;
  // A file of another kind has strange fields and lacks all others: the strange one says more.
  const strange = issues.find((issue) => issue.code === 'unrecognized_keys');
  if (strange !== undefined) throw unknownField(strange.keys[0]);
  const [issue] = issues;
  const path = issue.path.map(String);
  throw new HandbookError(jsonPointer(path), `${path.join('.')} ${issue.message}.`);
}

function unknownField(key: string): HandbookError {
  const known = Object.keys(handbookSchema.shape);
  const near = nearestName(key, known);
  const remedy = near === undefined ? `the fields are ${known.join(', ')}` : `"${near}" is one`;
  const shown = key.slice(0, 40);
  return new HandbookError(
    jsonPointer([shown]),
    `A handbook must hold known fields only, but has ${JSON.stringify(shown)}: ${remedy}.`,
  );
}

/** The numbers, and who says so. */
function apart<Values extends Partial<Record<TextField, unknown>> & Partial<HandbookSource>>(
  values: Values,
): [Omit<Values, TextField>, HandbookSource] {
  const { $schema: _schema, note: _note, name = '', source = '', grades = {}, ...numbers } = values;
  return [numbers, { name, source, grades }];
}

type TextField = '$schema' | 'name' | 'source' | 'note' | 'grades';
