import * as z from 'zod';
import {
  choice,
  group,
  list,
  optionalQuantity,
  quantity as q,
  ratio,
  received,
  record,
  words,
} from './fields.ts';

const amps = { unit: 'A', from: '0 A', to: '50 A' } as const;
export const pulse = { unit: 's', from: '2 ns', to: '1 ms' } as const;
/** Most points of a measured pulse. */
const MOST_POINTS = 4000;
const edgeTime = { unit: 's', from: '1 ns', to: '100 us' } as const;
const bears = optionalQuantity({
  unit: 'W',
  from: '1 mW',
  to: '1 kW',
  example: '500 mW',
  is: 'What one driver bears, its resistors included, when its line is used in every cycle; left out, not checked.',
});
const perKelvin = { unit: '1/K', from: '-2 %/K', to: '2 %/K', example: '-0.3 %/K' } as const;

const edge = group('Shape of the edges.', {
  kind: choice(['linear', 'raised-cosine', 'exponential', 'table'], 'Shape of the edges.').prefault('linear'),
  points: list(
    z.tuple(
      [
        ratio({ from: 0, to: 1, is: 'Time over edge time.' }),
        ratio({ from: -0.5, to: 1.5, is: 'Current over amplitude.' }),
      ],
      {
        error: (issue) =>
          `must be a pair [time, current], but ${received(issue.input)}; write for example [0.5, 0.4]`,
      },
    ),
    2,
    64,
    'Table only: pairs of time and current as fractions of edge time and amplitude, from [0, 0] to [1, 1].',
  ).optional(),
});

const overshoot = group('Overshoot of each edge, a damped ringing.', {
  fraction: ratio({ from: 0, to: 0.5, is: 'First overshoot over amplitude; 0 means none.' }).prefault(0),
  frequency: q('20 MHz', { unit: 'Hz', from: '100 kHz', to: '1 GHz', is: 'Frequency of the ringing.' }),
});

const driveTable = (what: string): z.ZodOptional<ReturnType<typeof tableOf>> => tableOf(what).optional();

function tableOf(what: string) {
  const column = (is: string): z.ZodNumber => ratio({ from: -1e9, to: 1e9, is });
  return record(
    `The ${what} current as measured, one pulse, for a current source; amplitude, width, rise and fall are then read off it.`,
    {
      points: list(
        z.tuple([column('Instant.'), column('Current, positive whichever way it drives.')], {
          error: (issue) =>
            `must be a pair [time, current], but ${received(issue.input)}; write for example [12, 370]`,
        }),
        3,
        MOST_POINTS,
        'Pairs of time and current, as multiples of the two units; the current starts and ends near nothing.',
      ).optional(),
      time: q('1 ns', { unit: 's', from: '1 ps', to: '1 s', is: 'Unit of the first column.' }),
      current: q('1 mA', { unit: 'A', from: '1 uA', to: '1 kA', is: 'Unit of the second column.' }),
      file: words(
        200,
        'On the command line, instead of points: a CSV file with a column of times and one of currents, found beside the design.',
      ).optional(),
    },
  );
}

const lineDrive = (name: 'X' | 'Y'): ReturnType<typeof lineGroup> => lineGroup(name);

function lineGroup(name: string) {
  return group(`Driver and drive line ${name}.`, {
    source: group('What drives the line.', {
      kind: choice(['current', 'voltage'], 'A current source, or a voltage behind a resistor.').prefault(
        'current',
      ),
      voltage: optionalQuantity({
        unit: 'V',
        from: '0.1 V',
        to: '500 V',
        example: '20 V',
        is: 'Voltage source only: its voltage.',
      }),
      resistance: optionalQuantity({
        unit: 'ohm',
        from: '0.1 ohm',
        to: '10 kohm',
        example: '50 ohm',
        is: 'Voltage source only: the resistor in series.',
      }),
    }),
    readAmplitude: optionalQuantity({
      ...amps,
      example: '370 mA',
      is: 'Read current (its size; 370 mA if left out, or what a voltage source settles at).',
    }),
    writeAmplitude: optionalQuantity({
      ...amps,
      example: '370 mA',
      is: 'Write current (its size; as the read current if left out).',
    }),
    read: driveTable('read'),
    write: driveTable('write'),
    readWidth: optionalQuantity({
      ...pulse,
      example: '480 ns',
      is: 'Width of its read pulse, where it is not that of the cycle.',
    }),
    writeWidth: optionalQuantity({
      ...pulse,
      example: '480 ns',
      is: 'Width of its write pulse, where it is not that of the cycle.',
    }),
    rise: q('40 ns', { ...edgeTime, is: 'Rise time: 0 to 100 %; of an exponential edge 10 to 90 %.' }),
    fall: q('40 ns', { ...edgeTime, is: 'Fall time, measured in the same way.' }),
    edge,
    overshoot,
    inductance: q('200 nH', {
      unit: 'H',
      from: '0 H',
      to: '1 mH',
      is: 'Inductance of the line itself, cores not counted.',
    }),
    resistance: q('1 ohm', {
      unit: 'ohm',
      from: '0 ohm',
      to: '1 kohm',
      is: 'Resistance of the line itself.',
    }),
    compliance: q('15 V', {
      unit: 'V',
      from: '0.1 V',
      to: '1 kV',
      is: 'Most voltage that a current source gives; where the line needs more, the current lags behind what was asked.',
    }),
    clamp: q('30 V', {
      unit: 'V',
      from: '0.1 V',
      to: '1 kV',
      is: 'Clamp that takes the kick at turn-off; a kick beyond it makes the current fall more slowly.',
    }),
    temperatureCoefficient: q('0 %/K', {
      ...perKelvin,
      is: 'Change of the amplitude per kelvin, for drives that follow the cores.',
    }),
    dissipation: bears,
  });
}

export const driveSchema = group('The currents.', {
  x: lineDrive('X'),
  y: lineDrive('Y'),
  inhibit: group('Inhibit driver: on during the write of a ZERO.', {
    amplitude: q('340 mA', { ...amps, is: 'Inhibit current per wire (for two halves, per half).' }),
    rise: q('40 ns', { ...edgeTime, is: 'Rise time.' }),
    fall: q('40 ns', { ...edgeTime, is: 'Fall time.' }),
    edge,
    overshoot,
    lead: q('60 ns', {
      unit: 's',
      from: '-10 us',
      to: '100 us',
      is: 'Inhibit starts this much before the write pulse (half amplitude to half amplitude).',
    }),
    lag: q('60 ns', {
      unit: 's',
      from: '-10 us',
      to: '100 us',
      is: 'Inhibit ends this much after the write pulse.',
    }),
    compliance: optionalQuantity({
      unit: 'V',
      from: '0.1 V',
      to: '1 kV',
      example: '18 V',
      is: 'Most voltage that the driver gives across the wire; left out, what the supply leaves.',
    }),
    clamp: q('none', {
      unit: 'V',
      from: '0.1 V',
      to: '500 V',
      words: { none: Number.POSITIVE_INFINITY },
      example: '0.7 V',
      is: 'Diode or Zener clamp across the driven ends of the wire.',
    }),
    temperatureCoefficient: q('0 %/K', { ...perKelvin, is: 'Change of the amplitude per kelvin.' }),
    dissipation: bears,
  }),
});
