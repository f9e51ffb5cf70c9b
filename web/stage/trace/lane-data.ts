import type { MeasuredLine } from '../../model/measured-trace.ts';
import { samplesAt } from '../../model/measured-trace.ts';
import { cornerEnvelope } from '../../model/envelopes.ts';
import type { Run } from '../../model/run.ts';
import type { StrobeState } from '../../model/strobe-state.ts';
import { causesSummary, currentsSummary, mainSummary } from '../../model/summaries.ts';
import { causesOf, seenTrace } from '../../model/traces.ts';
import type { ChartData, Picture } from '../../sharing/chart-data.ts';
import { readingsText } from './pulses.ts';

export function mainData(
  run: Run,
  strobe: StrobeState,
  svg: SVGSVGElement,
  measured: MeasuredLine | undefined,
): ChartData {
  const { envelope } = strobe;
  const corners = cornerEnvelope(strobe);
  return {
    file: 'one-and-zero',
    title: 'ONE and ZERO, referred to the sense wire',
    summary: `${mainSummary(run, strobe)}${measured ? ` The measured trace ${measured.label} lies over it.` : ''}`,
    design: run.design,
    pictures: [{ svg }],
    columns: [
      { title: 'time / s', values: envelope.time },
      { title: 'least ONE / V', values: envelope.one },
      { title: 'greatest ONE / V', values: envelope.oneHigh },
      { title: 'greatest ZERO / V', values: envelope.zero },
      { title: 'least ZERO / V', values: envelope.zeroLow },
      ...(corners
        ? [
            { title: 'least ONE at the corners / V', values: corners.one },
            { title: 'greatest ZERO at the corners / V', values: corners.zero },
          ]
        : []),
      { title: 'ONE of this design / V', values: seenTrace(run.one).subarray(0, envelope.time.length) },
      { title: 'ZERO of this design / V', values: seenTrace(run.zero).subarray(0, envelope.time.length) },
      ...(measured
        ? [
            {
              title: 'measured, as the latch sees it / V',
              values: samplesAt(envelope.time, measured.samples),
            },
          ]
        : []),
    ],
  };
}

export function causesData(run: Run, bit: 0 | 1, strobe: number, pictures: readonly Picture[]): ChartData {
  const causes = causesOf(run, bit);
  const { senseVoltage, contributions } = bit === 1 ? run.one : run.zero;
  return {
    file: 'causes',
    title: 'Sense voltage by cause',
    summary: causesSummary(run, bit, strobe),
    design: run.design,
    pictures,
    columns: [
      { title: 'time / s', values: run.one.time },
      { title: 'direct coupling / V', values: causes.direct },
      { title: 'half-selected, reversible / V', values: contributions!.halfSelectedReversible },
      { title: 'half-selected, irreversible / V', values: contributions!.halfSelectedIrreversible },
      { title: 'selected core / V', values: causes.selected },
      { title: 'inhibit / V', values: causes.inhibit },
      { title: 'total / V', values: senseVoltage },
    ],
  };
}

export function currentsData(run: Run, bit: 0 | 1, svg: SVGSVGElement): ChartData {
  const { x, y, inhibit } = (bit === 1 ? run.one : run.zero).currents;
  return {
    file: 'drive-currents',
    title: 'Drive currents',
    summary: currentsSummary(run, bit),
    design: run.design,
    pictures: [{ svg }],
    columns: [
      { title: 'time / s', values: run.one.time },
      { title: 'X / A', values: x },
      { title: 'Y / A', values: y },
      { title: 'inhibit / A', values: inhibit },
    ],
  };
}

export function pulsesData(run: Run, strobe: StrobeState, svg: SVGSVGElement): ChartData {
  return {
    file: 'detector-output',
    title: 'Detector output',
    summary: readingsText(run, strobe),
    design: run.design,
    pictures: [{ svg }],
    columns: pulseColumns(strobe),
  };
}

function pulseColumns(strobe: StrobeState) {
  const all = [
    ...(strobe.pulses?.one ?? []).map((pulse) => ({ ...pulse, name: 'least ONE' })),
    ...(strobe.pulses?.zero ?? []).map((pulse) => ({ ...pulse, name: 'greatest ZERO' })),
  ];
  return [
    { title: 'trace', values: all.map((pulse) => pulse.name) },
    { title: 'from / s', values: all.map((pulse) => pulse.start) },
    { title: 'to / s', values: all.map((pulse) => pulse.end) },
  ];
}
