import * as z from 'zod';
import { CORE_PRESET_NAMES } from '../core-presets.ts';
import type { Unit } from '../../base/units.ts';
import type { CoreProperty } from '../core.ts';
import {
  choice,
  count,
  optionalQuantity as q,
  ratio,
  record,
  required,
  words,
  type QuantitySpec,
} from './fields.ts';

const perKelvin = { unit: '1/K', from: '-2 %/K', to: '1 %/K', example: '-0.5 %/K' } as const;
const drive = { unit: 'A', from: '1 mA', to: '50 A', example: '450 mA' } as const;
const volt = { unit: 'V', from: '10 uV', to: '100 V' } as const;
const time = { unit: 's', from: '0.1 ns', to: '1 ms' } as const;
const size = { unit: 'm', from: '0.05 mm', to: '50 mm', example: '20 mil' } as const;

/** Unit, limits and meaning of everything a core does; a parameter without a unit is a plain number. */
const properties = {
  remanentFlux: {
    unit: 'Wb',
    from: '10 pWb',
    to: '10 uWb',
    example: '2.7 nWb',
    is: 'Flux of a core at rest: it keeps plus or minus this much (phi_r).',
  },
  squareness: {
    from: 0.5,
    to: 0.9999,
    is: 'Remanent over saturation flux; at 1 a core would never start to switch.',
  },
  coerciveDrive: { ...drive, is: 'Ampere-turns at which the slow loop crosses zero flux (F_c).' },
  staticKneeWidth: {
    ...drive,
    from: '10 uA',
    example: '30 mA',
    is: 'How soft the knee of the slow loop is (w); at most a sixth of coerciveDrive.',
  },
  dynamicThreshold: {
    ...drive,
    is: 'Ampere-turns above which switching speed grows in proportion (F_0).',
  },
  dynamicKneeWidth: { ...drive, from: '10 uA', example: '30 mA', is: 'How soft that threshold is (s).' },
  switchingResistance: {
    unit: 'ohm',
    from: '0.1 mohm',
    to: '1 kohm',
    example: '172 mohm',
    is: 'Peak voltage per turn and per ampere above threshold (rho).',
  },
  ringSpread: {
    from: 0,
    to: 0.3,
    is: 'How far thresholds at the hole lie below, and at the outside above, those at the mean diameter (r); 0: the core switches as one. At most (OD - ID)/(OD + ID).',
  },
  elasticSaturated: {
    unit: 'H',
    from: '0.1 pH',
    to: '10 uH',
    example: '0.7 nH',
    is: 'Elastic inductance when pushed further into the stored state.',
  },
  elasticKnee: {
    unit: 'H',
    from: '0.1 pH',
    to: '10 uH',
    example: '1 nH',
    is: 'Elastic inductance when pushed toward the knee.',
  },
  elasticBend: {
    ...drive,
    example: '200 mA',
    is: 'Ampere-turns over which the elastic inductance changes from one to the other.',
  },
  decayResistance: {
    unit: 'ohm',
    from: '0 ohm',
    to: '100 ohm',
    example: '20 mohm',
    is: 'Size of the fast decaying part of the output; 0 ohm leaves it out.',
  },
  decayCharge: {
    unit: 'C',
    from: '1 pC',
    to: '1 mC',
    example: '10 nC',
    is: 'Ampere-turns times seconds that the decaying part takes.',
  },
  decayThreshold: {
    ...drive,
    from: '0 A',
    example: '400 mA',
    is: 'Ampere-turns above which the decaying part moves.',
  },
  driveTemperatureCoefficient: {
    ...perKelvin,
    is: 'Relative change of every threshold per kelvin (negative: softer when warm).',
  },
  fluxTemperatureCoefficient: {
    ...perKelvin,
    example: '-0.2 %/K',
    is: 'Relative change of the flux per kelvin.',
  },
} as const satisfies Record<CoreProperty, Property>;

type Property =
  | (QuantitySpec & { readonly example: string })
  | { readonly from: number; readonly to: number; readonly is: string };
export const CORE_PROPERTIES = Object.keys(properties) as readonly CoreProperty[];

/** Unit of a property; '1' of a plain number. */
export function unitOf(name: CoreProperty): Unit {
  const property: Property = properties[name];
  return 'unit' in property ? property.unit : '1';
}

/** A field for each property. */
const eachProperty = <Field>(field: (property: Property) => Field): { [Name in CoreProperty]: Field } =>
  Object.fromEntries(Object.entries(properties).map(([name, property]) => [name, field(property)])) as {
    [Name in CoreProperty]: Field;
  };

/** Parameters of one core at 25 °C; each one given replaces the preset's or the handbook's. */
const parameters = record(
  'Parameters of one core at 25 °C; each one given replaces that of the preset or handbook.',
  {
    ...eachProperty(optional),
    outsideDiameter: q({ ...size, is: 'Outside diameter of the core.' }),
    insideDiameter: q({ ...size, example: '12 mil', is: 'Diameter of its hole.' }),
    height: q({ ...size, example: '5 mil', is: 'Height along the axis of the hole.' }),
  },
);

function optional(
  property: Property,
): z.ZodOptional<z.ZodType<number | undefined, string | number | undefined>> {
  return 'unit' in property ? q(property) : ratio(property).optional();
}

const end = (property: Property, is: string): z.ZodType<number, string | number> =>
  'unit' in property ? required({ ...property, is }) : ratio({ ...property, is });

const range = record(
  'Between which values each parameter lies, and where that is known from; what is left out follows from where the value comes from.',
  eachProperty((property) =>
    record('Range of this parameter.', {
      low: end(property, 'Least value.'),
      high: end(property, 'Greatest value.'),
      from: choice(
        ['measured', 'handbook', 'preset', 'assumed', 'given'],
        'Fitted to captures, from handbook readings, from a preset, assumed as such cores are, or given here.',
      ),
    }).optional(),
  ),
).meta({ 'x-kind': 'list' });

const test = record(
  'The test by which the core is known; what is left out is as in that of the preset or handbook.',
  {
    fullDrive: q({ ...drive, example: '740 mA', is: 'Full drive at which a ONE was read.' }),
    rise: q({ ...time, example: '50 ns', is: '0 to 100 % of the linear edge of that drive.' }),
    tolerance: ratio({ from: 0, to: 0.5, is: 'How far the readings may be off, as a fraction.' }).optional(),
    disturbRatio: ratio({
      from: 0.3,
      to: 0.8,
      is: 'Half-select current of the disturb test over full drive.',
    }).optional(),
    disturbs: count({ from: 1, to: 1e9, is: 'Half-select pulses of the disturb test.' }).optional(),
    disturbWidth: q({ ...time, example: '1 us', is: 'Width of each.' }),
    disturbTolerance: ratio({
      from: 0,
      to: 0.5,
      is: 'How far the disturbed reading may be off, over the peak of a ONE; left out: none was taken.',
    }).optional(),
    secondDrive: q({ ...drive, example: '660 mA', is: 'Drive at which the peak was read too.' }),
  },
);

/** What a handbook or a bench with one core gives: within a design, and as a file of its own. */
export const handbookSchema = record('Handbook or bench values of one core, turned into parameters.', {
  $schema: words(300, 'Where the schema of a handbook file is.').optional(),
  name: words(120, 'Name of the core.').optional(),
  source: words(1000, 'Where the values come from.').optional(),
  note: words(2000, 'Anything worth remembering about them.').optional(),
  grades: z
    .record(z.string(), words(1000, 'Grade and source.'), {
      error: () => 'must be an object of texts, one for each field it grades',
    })
    .meta({ description: 'Grade and source of single values.', 'x-kind': 'list' })
    .optional(),
  fullDrive: required({ ...drive, example: '740 mA', is: 'Full drive of read and write.' }),
  rise: required({ ...time, example: '50 ns', is: '0 to 100 % of the linear edge of the drive.' }),
  peakOne: required({ ...volt, example: '45 mV', is: 'Peak of an undisturbed ONE (uV1).' }),
  peakTime: required({ ...time, example: '110 ns', is: 'Start of the rise to that peak (t_p).' }),
  switchTime: required({
    ...time,
    example: '210 ns',
    is: 'Start of the rise to a tenth of the peak on the fall (t_s).',
  }),
  disturbRatio: ratio({
    from: 0.3,
    to: 0.8,
    is: 'Half-select current of the disturb test over full drive.',
  }).optional(),
  halfSelectOne: q({ ...volt, example: '9 mV', is: 'Greatest output of a half-selected undisturbed ONE.' }),
  halfSelectZero: q({ ...volt, example: '7 mV', is: 'Greatest output of a half-selected undisturbed ZERO.' }),
  disturbedZero: q({
    ...volt,
    example: '12 mV',
    is: 'Greatest output of a disturbed ZERO under full drive (dVz).',
  }),
  secondDrive: q({ ...drive, example: '660 mA', is: 'Another drive at which a ONE was read.' }),
  secondPeak: q({ ...volt, example: '33 mV', is: 'Peak of an undisturbed ONE at that drive.' }),
  disturbs: count({
    from: 1,
    to: 1e9,
    is: 'Half-select pulses of the disturb test; 1024 if left out.',
  }).optional(),
  disturbedOne: q({
    ...volt,
    example: '40 mV',
    is: 'Peak of a ONE after half-reads, under full drive (dV1).',
  }),
  disturbedPeak: q({
    ...volt,
    example: '4 mV',
    is: 'Peak of a ZERO after half-writes, under full drive, beyond the edge.',
  }),
  dynamicThreshold: q({ ...drive, is: 'F_0, where it was measured.' }),
  coerciveDrive: q({ ...drive, is: 'F_c, where it was measured.' }),
  ringSpread: ratio({
    from: 0,
    to: 0.3,
    is: 'Spread of the thresholds over the rings of the core (r), where it was measured.',
  }).optional(),
  driveTemperatureCoefficient: q({ ...perKelvin, is: 'Relative change of every threshold per kelvin.' }),
  fluxTemperatureCoefficient: q({
    ...perKelvin,
    example: '-0.2 %/K',
    is: 'Relative change of the flux per kelvin.',
  }),
  tolerance: ratio({
    from: 0.001,
    to: 0.5,
    is: 'How far these values may be off, as a fraction of each; 0.05 where it is left out.',
  }).optional(),
  outsideDiameter: required({ ...size, example: '20 mil', is: 'Outside diameter of the core.' }),
  insideDiameter: required({ ...size, example: '12 mil', is: 'Diameter of its hole.' }),
  height: required({ ...size, example: '5 mil', is: 'Height along the axis of the hole.' }),
});

export const coreSchema = record(
  'The ferrite core: a preset or handbook values, and parameters that replace theirs.',
  {
    name: words(80, 'What you call this core.').optional(),
    source: words(300, 'Where its values come from.').optional(),
    preset: choice(CORE_PRESET_NAMES, 'A core from the built-in list.').optional(),
    handbook: handbookSchema.optional(),
    parameters: parameters.optional(),
    range: range.optional(),
    test: test.optional(),
  },
).prefault({});
