import type * as z from 'zod';
import { SET_NAMES } from '../requirement.ts';
import { choice, count, group, list, optionalQuantity, quantity as q, ratio } from './fields.ts';

const unlimited = { none: Number.POSITIVE_INFINITY } as const;
const hertz = { unit: 'Hz', from: '1 kHz', to: '10 GHz' } as const;

export const amplifierSchema = group('Sense amplifier.', {
  divider: ratio({
    from: 0.001,
    to: 1,
    is: 'Fraction of the sense voltage that reaches the amplifier.',
  }).prefault(1),
  inputResistance: q('10 kohm', {
    unit: 'ohm',
    from: '1 ohm',
    to: '100 Mohm',
    is: 'From each input to the surroundings.',
  }),
  inputClamp: q('1 V', {
    unit: 'V',
    from: '1 mV',
    to: '100 V',
    words: unlimited,
    is: 'Voltage at which the input clamp limits, after the divider.',
  }),
  gain: ratio({ from: 0.01, to: 100_000, is: 'Gain in mid band.' }).prefault(20),
  bandwidth: q('20 MHz', { ...hertz, is: 'Upper -3 dB frequency.' }),
  secondPole: q('none', { ...hertz, words: unlimited, example: '60 MHz', is: 'A second pole above it.' }),
  highPass: q('0 Hz', {
    ...hertz,
    from: '0 Hz',
    to: '100 MHz',
    example: '10 kHz',
    is: 'Lower -3 dB frequency of AC coupling; 0 Hz means DC coupled.',
  }),
  outputLimit: q('5 V', { unit: 'V', from: '1 mV', to: '1 kV', is: 'Greatest output, either way.' }),
  // 50 ns: what sense amplifiers of the time take from their limit; from memory, a default only.
  recovery: q('50 ns', {
    unit: 's',
    from: '0 ns',
    to: '1 ms',
    is: 'Time to recover after the output limit was reached.',
  }),
  commonModeRejection: q('60 dB', {
    unit: 'dB',
    from: '0 dB',
    to: '200 dB',
    words: { ideal: Number.POSITIVE_INFINITY },
    is: 'How much less a common voltage on both inputs counts than a difference.',
  }),
  polarity: choice(
    ['either', 'address'],
    'Does the detector hear both polarities (rectified), or does polarity follow the selected core?',
  ).prefault('either'),
});

const millivolts = { unit: 'V', from: '0 V', to: '10 V' } as const;

export const detectorSchema = group('Threshold detector; voltages are referred to the sense wire.', {
  threshold: q('18 mV', { ...millivolts, from: '0.01 mV', is: 'Slice level: above it a ONE is read.' }),
  hysteresis: q('2 mV', { ...millivolts, is: 'Between switching on and switching off.' }),
  uncertainty: q('2 mV', { ...millivolts, is: 'Plus or minus, of the threshold.' }),
  delay: q('10 ns', { unit: 's', from: '0 ns', to: '10 us', is: 'Propagation delay to the latch.' }),
  slope: q('0 V/s', {
    unit: 'V/s',
    from: '-10 mV/ns',
    to: '10 mV/ns',
    example: '-20 mV/us',
    is: 'Change of the threshold from the start of read on.',
  }),
  noise: q('0.3 mV', { ...millivolts, is: 'Noise, rms.' }),
});

export const strobeSchema = group('When the latch samples.', {
  time: optionalQuantity(
    {
      unit: 's',
      from: '0 ns',
      to: '1 ms',
      example: '120 ns',
      is: 'Start of read to the middle of the aperture; "best" finds the instant.',
    },
    'best',
  ),
  aperture: q('10 ns', { unit: 's', from: '0 ns', to: '10 us', is: 'How long the latch listens.' }),
  jitter: q('1 ns', { unit: 's', from: '0 ns', to: '1 us', is: 'Jitter, rms.' }),
});

export const requirementSchema = group('What you ask for.', {
  margin: q('5 mV', {
    ...millivolts,
    is: 'Margin left on the worse side of the threshold, its uncertainty taken off, on the sense wire.',
  }),
  width: q('20 ns', { unit: 's', from: '0 ns', to: '100 us', is: 'Width of the strobe window.' }),
  halfSelectNoise: optionalQuantity({
    ...millivolts,
    example: '7 mV',
    is: 'Half-selected cores must add less than this to the greatest ZERO at the strobe; less than the threshold leaves after its uncertainty where it is left out.',
  }),
  sets: list(
    choice(SET_NAMES, 'A set of cases.'),
    1,
    SET_NAMES.length,
    'Sets of cases that decide the verdict: nominal (parts as stated), corners (ends of drive, supply, temperature, threshold, strobe), parts (yield of parts as they come), core (what is not known of the core), numbers (error of the run). The others are told without deciding.',
  ).prefault(['nominal', 'corners']),
  yield: ratio({
    from: 0.5,
    to: 0.9999,
    is: 'Least share of whole stacks that read every bit, for the set "parts".',
  }).prefault(0.95),
});

const spread = (start: number, is: string): z.ZodPrefault<z.ZodNumber> =>
  ratio({ from: 0, to: 0.5, is: `${is}, one standard deviation as a fraction.` }).prefault(start);

export const tolerancesSchema = group('How far parts stray.', {
  coreThreshold: spread(0.03, "A core's thresholds"),
  coreFlux: spread(0.03, "A core's flux"),
  coreElastic: spread(0.05, "A core's elastic inductance"),
  coreCorrelation: ratio({
    from: -1,
    to: 1,
    is: "Correlation between a core's threshold and its flux.",
  }).prefault(0),
  drive: spread(0.02, 'Each drive current'),
  inhibit: ratio({
    from: 0,
    to: 0.5,
    is: 'The inhibit current, one standard deviation as a fraction; as the drive currents where it is left out.',
  }).optional(),
  edge: spread(0.05, 'Edge times'),
  termination: spread(0.02, 'Terminations'),
  threshold: spread(0.05, 'Detector threshold'),
  strobe: q('2 ns', { unit: 's', from: '0 ns', to: '1 us', is: 'Setting of the strobe, rms.' }),
  // 10 %: our own choice, for a thermistor beside the stack; no source.
  tracking: ratio({
    from: 0,
    to: 1,
    is: 'Error of a coefficient with which drives follow the temperature, as a fraction of it; counts away from 25 °C.',
  }).prefault(0.1),
  gradient: q('3 K', {
    unit: 'K',
    from: '0 K',
    to: '80 K',
    is: 'How far the cores may be from the temperature that drives follow.',
  }),
  temperature: q('15 K', {
    unit: 'K',
    from: '0 K',
    to: '80 K',
    is: 'Half the range of temperature about that of the design.',
  }),
  // 2 %: our own choice, for a regulated supply; no source.
  supply: ratio({
    from: 0,
    to: 0.5,
    is: 'Half the range of the supply as a fraction; it moves all drives, and the threshold with them.',
  }).prefault(0.02),
});

export const supplySchema = group('Drive supply.', {
  voltage: q('20 V', { unit: 'V', from: '1 V', to: '500 V', is: 'Its voltage.' }),
  quiescent: q('40 mA', { unit: 'A', from: '0 A', to: '100 A', is: 'Current at rest.' }),
  chargePerCycle: q('1 uC', {
    unit: 'C',
    from: '0 C',
    to: '10 mC',
    is: 'Charge that every cycle costs whatever the data.',
  }),
  headroom: q('1.5 V', {
    unit: 'V',
    from: '0 V',
    to: '100 V',
    is: 'What transistors, diodes and leads in series with a line keep for themselves.',
  }),
  reservoir: optionalQuantity({
    unit: 'F',
    from: '1 nF',
    to: '1 F',
    example: '100 uF',
    is: 'Capacitance beside the drivers, from which pulses draw what is over the budget; left out, none is counted on.',
  }),
  budget: q('1.5 A', { unit: 'A', from: '1 mA', to: '1 kA', is: 'Current that it can give.' }),
});

export const numericsSchema = group(
  'How finely to compute; leave alone unless you are checking the method.',
  {
    step: optionalQuantity(
      {
        unit: 's',
        from: '1 ps',
        to: '1 us',
        example: '0.5 ns',
        is: 'Greatest step; "auto" chooses it from edges and network.',
      },
      'auto',
    ),
    sections: count({
      from: 1,
      to: 1024,
      is: 'Sections of the wire; left out, chosen from edges and delay.',
    }).optional(),
    output: q('1 ns', { unit: 's', from: '1 ps', to: '1 ms', is: 'Between output samples.' }),
  },
);
