import * as z from 'zod';
import { coreSchema } from './core.ts';
import { cycleSchema, programmeSchema } from './cycle.ts';
import { driveSchema } from './drive.ts';
import { choice, list, quantity, record, words } from './fields.ts';
import {
  exceptionSchema,
  matSchema,
  selectedSchema,
  storedSchema,
  terminationsSchema,
  windingSchema,
  wireSchema,
} from './mat.ts';
import {
  amplifierSchema,
  detectorSchema,
  numericsSchema,
  requirementSchema,
  strobeSchema,
  supplySchema,
  tolerancesSchema,
} from './sense.ts';

/** Every field of a design file with unit, default, range and meaning: the one source of checks, schema and help. */
export const designSchema = record('A design of a coincident-current core memory and its sense channel.', {
  $schema: words(300, 'Where the JSON Schema of this file is.').optional(),
  name: words(120, 'Name of the design.').prefault('untitled'),
  note: words(2000, 'Anything worth remembering about it.').prefault(''),
  temperature: quantity('25 degC', {
    unit: '°C',
    from: '-60 degC',
    to: '125 degC',
    is: 'Temperature of cores and drivers.',
  }),
  core: coreSchema,
  mat: matSchema,
  winding: windingSchema,
  wire: wireSchema,
  terminations: terminationsSchema,
  drive: driveSchema,
  cycle: cycleSchema,
  selected: selectedSchema,
  stored: storedSchema,
  initialState: choice(
    ['undisturbed', 'disturbed'],
    'Are the cores fresh, or have they been half-selected many times?',
  ).prefault('undisturbed'),
  programme: programmeSchema.optional(),
  exceptions: list(exceptionSchema, 0, 1024, 'Cores that are not like the others.').prefault([]),
  amplifier: amplifierSchema,
  detector: detectorSchema,
  strobe: strobeSchema,
  requirement: requirementSchema,
  tolerances: tolerancesSchema,
  supply: supplySchema,
  numerics: numericsSchema,
});

/** A design file as typed: text with units. */
export type DesignFile = z.input<typeof designSchema>;
/** A design file after each field was read: SI, defaults filled, cross-field rules not yet applied. */
export type ReadDesignFile = z.output<typeof designSchema>;

/** JSON Schema (draft 2020-12) of a design file; units and ranges of quantities stand in x-unit, x-minimum, x-maximum. */
export function designJsonSchema(): Readonly<Record<string, unknown>> {
  made ??= { ...z.toJSONSchema(designSchema, { io: 'input' }), title: 'Strobewright design' };
  return made;
}

/** Made once: it takes some milliseconds, and a design is written for every case that can be opened. */
let made: Readonly<Record<string, unknown>> | undefined;
