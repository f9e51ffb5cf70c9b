import { formatQuantity } from '../../base/format-quantity.ts';
import { escapeText, keepUnits, paragraph } from '../../report/markup.ts';
import type { CoreVerdict } from '../../strobe/verdict-of-sets.ts';
import type { CoreMeasurement, CoreReading, MeasuringPlan } from './measuring-plan.ts';

const q3 = (value: number, unit: 'A' | 's'): string => formatQuantity(value, unit, 3);

/** Less than this is not told from nothing on a bench: V, s, Wb. */
const LEAST = { V: 50e-6, s: 0.5e-9, Wb: 10e-12 } as const;

/** A reading as it is printed: two digits of volts, three of times; nothing under what a bench can tell. */
export function readingText(value: number, unit: CoreReading['unit']): string {
  const least = LEAST[unit];
  return value < least
    ? `under ${formatQuantity(least, unit, 1)}`
    : formatQuantity(value, unit, unit === 's' ? 3 : 2);
}

interface Words {
  readonly title: string;
  readonly act: string;
  readonly tells: string;
}

type Conditions = Pick<MeasuringPlan, 'fullDrive' | 'rise' | 'pulse' | 'disturbWidth'>;

/** What each measurement is called, how it is taken, and what it tells. */
export const MEASURING_WORDS: Readonly<Record<CoreMeasurement['key'], (plan: Conditions) => Words>> = {
  drives: ({ fullDrive, rise, pulse }) => ({
    title: 'A ONE at five drives (do not leave out)',
    act: `Write twice, then read once, each pulse ${q3(pulse, 's')} long with a rise of ${q3(rise, 's')}; full drive is ${q3(fullDrive, 'A')}. The area is that of a ONE less that of a ZERO (a second read in a row).`,
    tells:
      'Peak against drive gives threshold and switching resistance, the time of the peak gives squareness, the area gives the flux, peak and width together the spread of the rings.',
  }),
  knee: ({ fullDrive, disturbWidth }) => ({
    title: 'What half pulses take (do not leave out)',
    act: `Read twice, so that a ZERO stands; then half-writes, each ${q3(disturbWidth, 's')} long, of the drive and the number given; then one full read at ${q3(fullDrive, 'A')}. Begin anew for every figure.`,
    tells:
      'The knee of the core: where half-selects begin to switch it. Without this no answer about disturbing is worth much.',
  }),
  rises: () => ({
    title: 'Other rises',
    act: 'A ONE at full drive with a rise a tenth shorter, and with one twice as long.',
    tells: 'How much of the delay is the core’s, and how much the current’s.',
  }),
  cut: ({ fullDrive }) => ({
    title: 'A write cut short',
    act: `Read twice; one write at ${q3(fullDrive, 'A')} that begins to fall at the time given, counted from the start of its rise; then a full read.`,
    tells: 'Whether a core that is partly switched goes on from there as the model says.',
  }),
  tail: () => ({
    title: 'The tail of a second pulse',
    act: 'Two reads in a row, the second one 3 µs long.',
    tells: 'What switches slowly after the bell is over, and so stands under a ZERO.',
  }),
  edges: () => ({
    title: 'Edges',
    act: 'A half-read of a ONE and of a ZERO, read at the end of the rise. Then the same with a strong magnet at the core, and with no core on the wires: take both off.',
    tells: 'The elastic part of the core, from which the spikes of half-selected cores come.',
  }),
  warm: () => ({
    title: 'Cold and warm',
    act: 'A ONE at full drive, and a ZERO after half pulses, with core and wires kept at the temperature until nothing drifts (a tight bag in cool water, a box with a lamp).',
    tells:
      'How drive and flux go with temperature; of a core whose material is not known nothing else tells it.',
  }),
};

/** What to measure on one core, with what to expect and room to write: part of the pack. */
export function measuringPart(plan: MeasuringPlan, core: CoreVerdict | undefined): string {
  const next = core?.measureNext;
  return [
    paragraph(
      'Before a mat is threaded: one core on two straight wires, one for the drive and one to hear it, a single pass each. Record the current (across 1 Ω at the grounded end, or with a current probe) and the voltage on one picture with one trigger, 2 to 10 ns a sample, the time before the pulse included. Take off what the empty wires give. One repetition in a millisecond keeps everything cool.',
    ),
    paragraph(
      `Expected is what the model of this design’s core gives; from and to are the least and the greatest of ${plan.cores} cores drawn from what is not known of it, so that of such cores about one in ${Math.round((plan.cores + 1) / 2)} lies outside by chance. A figure far outside says that drive or wires are not what was assumed, or that the core is none of these, or not like the model: believe the measurement. Voltages are magnitudes at one turn, times run from the start of the rise; at 25 °C unless said.`,
    ),
    next
      ? paragraph(
          `For this design the first to take is ${next.what}: it would narrow the margin at the corners to ${formatQuantity(next.narrowsTo[0], 'V', 2)} to ${formatQuantity(next.narrowsTo[1], 'V', 2)}, now ${formatQuantity(core.low, 'V', 2)} to ${formatQuantity(core.high, 'V', 2)}.`,
        )
      : '',
    ...plan.measurements.map((measurement, i) => measurementPart(plan, measurement, i + 1)),
    paragraph(
      'Figures with a field go into a handbook file (secondPeak with secondDrive, disturbedPeak with disturbs and disturbRatio); “strobewright core FILE” turns it into a core and says what is still open. A capture of a ONE and of a disturbed ZERO does as well: “strobewright core FILE --one ONE.csv --zero ZERO.csv”. core-readings.csv has the same list with an empty column.',
    ),
  ].join('');
}

function measurementPart(plan: MeasuringPlan, { key, readings }: CoreMeasurement, place: number): string {
  const { title, act, tells } = MEASURING_WORDS[key](plan);
  const rows = readings.map((reading) => {
    const cells = [
      q3(reading.drive, 'A'),
      readingText(reading.expected, reading.unit),
      readingText(reading.low, reading.unit),
      readingText(reading.high, reading.unit),
    ].map((text) => `<td class="num">${escapeText(keepUnits(text))}</td>`);
    return `<tr><th scope="row">${escapeText(keepUnits(reading.what))}</th>${cells.join('')}<td>${reading.field ?? ''}</td><td><span class="write" role="img" aria-label="to fill in">&nbsp;</span></td></tr>`;
  });
  const head = ['Read', 'pulse', 'expected', 'from', 'to', 'field', 'found']
    .map((text) => `<th scope="col">${text}</th>`)
    .join('');
  return [
    `<h3>${place} ${escapeText(title)}</h3>`,
    paragraph(act),
    `<table class="measure"><thead><tr>${head}</tr></thead><tbody>${rows.join('')}</tbody></table>`,
    paragraph(`Tells: ${tells}`),
  ].join('');
}

/** The readings as rows of text, SI, with an empty column for what is found. */
export const measuringRows = (plan: MeasuringPlan): readonly (readonly string[])[] => [
  ['measurement', 'reading', 'pulse_A', 'unit', 'expected', 'from', 'to', 'handbook_field', 'found'],
  ...plan.measurements.flatMap(({ key, readings }) =>
    readings.map(({ what, drive, unit, expected, low, high, field }) => [
      key,
      what,
      drive.toPrecision(3),
      unit,
      ...[expected, low, high].map((value) => (value < LEAST[unit] ? '0' : value.toPrecision(3))),
      field ?? '',
      '',
    ]),
  ),
];
