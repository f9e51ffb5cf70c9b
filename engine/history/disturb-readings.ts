import { restState } from '../core/state.ts';
import type { Design } from '../design/design.ts';
import type { Cycle } from '../design/drive.ts';
import { driveLevels, warmCurrents } from '../drive/at-temperature.ts';
import { readEnd } from '../drive/programme.ts';
import { storedBits } from '../mat/stored-pattern.ts';
import { wirePath } from '../mat/winding.ts';
import { repetitionCoupling } from '../sense-amplifier/repetition.ts';
import type { SimulateOptions, Simulation } from '../solver/result.ts';
import { parametersOf } from './core-kicks.ts';
import type { KickedCore } from '../core/kicks.ts';
import { disturbances, extremeTrain, type Disturbance } from './disturb-search.ts';
import { trainWords } from './disturb-words.ts';
import { makeMatHistory, type MatHistory } from './mat-history.ts';
import { finished } from '../solver/finished.ts';

export interface DisturbOptions {
  readonly simulate: (design: Design, options: SimulateOptions) => Simulation;
  /** Disturbances between write and read (default 8). */
  readonly length?: number;
  readonly cancelled?: () => boolean;
}

/** One read of the selected core after a write and a train, on the mat, by a full run of all those cycles. */
export interface DisturbReading {
  /** What went between the write and the read, in words; empty for nothing. */
  readonly train: string;
  readonly bit: 0 | 1;
  /** V, greatest answer of the selected core itself during the read, as it arrives at the amplifier. */
  readonly peak: number;
  /** s from the start of read. */
  readonly peakTime: number;
  /** V s, the same answer summed over the read: the flux that came out. */
  readonly area: number;
  /** V at the strobe as the detector hears it, referred to the sense wire, everything included. */
  readonly atStrobe: number;
  /** Wb, main flux of the core at the start of read. */
  readonly flux: number;
  /** Bit that the latch takes. */
  readonly read: 0 | 1;
}

/** Undisturbed and disturbed ONE and ZERO of the addressed core as results. */
export interface DisturbReadings {
  /** Disturbances in each train. */
  readonly length: number;
  readonly uV1: DisturbReading;
  /** ONE after half-reads. */
  readonly dV1: DisturbReading;
  /** ZERO as a read leaves it, with no write after. */
  readonly uVz: DisturbReading;
  /** The same ZERO after half-writes. */
  readonly dVz: DisturbReading;
  /** ZERO as its own inhibited write leaves it: write less inhibit is more than a half-select (see `inhibitedDrive`). */
  readonly keptZero: DisturbReading;
  /** Net ampere-turns of an inhibited write over the half-select on X; 1 where they are equal. */
  readonly inhibitedDrive: number;
  /** Write disturb: a ONE after half-writes, a ZERO after half-reads. */
  readonly writeDisturbed: { readonly one: DisturbReading; readonly zero: DisturbReading };
  /** Wb, main flux after n half-reads of a ONE and after n half-writes of a ZERO, n = 0 ... length. */
  readonly settling: { readonly one: readonly number[]; readonly zero: readonly number[] };
  /** Worst of every train run in full, at the strobe: the least ONE and the greatest ZERO. */
  readonly worst: { readonly one: DisturbReading; readonly zero: DisturbReading };
  /** Every train that was run in full. */
  readonly tried: readonly DisturbReading[];
}

/**
 * Reads the selected core undisturbed, after plain trains, and after the worst trains that were found: the search
 * (disturb-search.ts) gives the trains that move its flux farthest either way; those, the plain ones and every single
 * kind of disturbance repeated are then run in full, because a core of less flux is not always the lesser ONE at a
 * given strobe (its bell comes earlier), and the neighbours' states count too.
 */
export function disturbReadings(design: Design, options: DisturbOptions): DisturbReadings {
  const length = options.length ?? 8;
  const among = disturbances(design);
  const history = makeMatHistory(design, {
    bits: storedBits(design),
    currents: (bit) => currentsOf(design, bit, options),
  });
  const { read, tried } = makeTrainReads(design, options);
  const repeat = (what: Disturbance): Disturbance[] => Array.from({ length }, () => what);
  const [halfRead, halfWrite] = [among[0]!, among[1]!];

  const uV1 = read(1, []);
  const uVz = read(0, [], true);
  const keptZero = read(0, []);
  const dV1 = read(1, repeat(halfRead));
  const dVz = read(0, repeat(halfWrite), true);
  const writeDisturbed = { one: read(1, repeat(halfWrite)), zero: read(0, repeat(halfRead), true) };
  for (const bit of [1, 0] as const) {
    for (const what of among) read(bit, repeat(what));
    for (const toward of ['low', 'high'] as const)
      for (const cleared of bit === 0 ? [false, true] : [false]) {
        const core = written(design, history, bit, cleared);
        read(bit, extremeTrain(history, selectedIndex(design), core, among, length, toward).train, cleared);
      }
  }
  const { inhibited } = warmCurrents(design);
  return {
    length,
    uV1,
    dV1,
    uVz,
    dVz,
    keptZero,
    inhibitedDrive: inhibited / driveLevels(design).x.write,
    writeDisturbed,
    settling: {
      one: settle(design, history, 1, halfRead, length),
      zero: settle(design, history, 0, halfWrite, length),
    },
    worst: { one: worstOf(tried, 1), zero: worstOf(tried, 0) },
    tried,
  };
}

const selectedIndex = ({ selected, mat }: Design): number => selected.row * mat.columns + selected.column;

/** Reads after trains, each run once. */
function makeTrainReads(design: Design, options: DisturbOptions) {
  const coupling = repetitionCoupling(design, options.simulate);
  const tried: DisturbReading[] = [];
  const known = new Map<string, DisturbReading>();
  const read = (bit: 0 | 1, train: readonly Disturbance[], cleared = false): DisturbReading => {
    const name = trainWords(train, cleared);
    const key = `${bit} ${name}`;
    const before = known.get(key);
    if (before) return before;
    const cycles = [writeOf(design, bit, cleared), ...train.map(({ cycle }) => cycle)];
    const reading = readAfter(design, bit, name, cycles, { ...options, coupling });
    known.set(key, reading);
    tried.push(reading);
    return reading;
  };
  return { read, tried };
}

/** The least ONE or the greatest ZERO at the strobe. */
const worstOf = (tried: readonly DisturbReading[], bit: 0 | 1): DisturbReading =>
  tried
    .filter((reading) => reading.bit === bit)
    .reduce((a, b) => ((bit === 1 ? b.atStrobe < a.atStrobe : b.atStrobe > a.atStrobe) ? b : a));

/** State of the selected core after it was read and written. */
function written(design: Design, history: MatHistory, bit: 0 | 1, cleared: boolean): KickedCore {
  const core: KickedCore = { ...restState(parametersOf(design, exceptionAt(design)), bit) };
  history.move(writeOf(design, bit, cleared), selectedIndex(design), core);
  return core;
}

/** Wb, main flux of the selected core after each of `length` disturbances, from none on. */
function settle(design: Design, history: MatHistory, bit: 0 | 1, by: Disturbance, length: number): number[] {
  const core = written(design, history, bit, bit === 0);
  const flux = [core.phi];
  for (let n = 0; n < length; n++) {
    history.move(by.cycle, selectedIndex(design), core);
    flux.push(core.phi);
  }
  return flux;
}

/** Runs those cycles and then the read that is observed. */
function readAfter(
  design: Design,
  bit: 0 | 1,
  name: string,
  cycles: readonly Cycle[],
  { simulate, coupling, cancelled }: DisturbOptions & { readonly coupling: number },
): DisturbReading {
  const selected = { ...design.selected, bit };
  const observed: Cycle = { ...selected, lines: 'both', read: true, write: 'restore' };
  const run = finished(
    simulate(
      { ...design, selected, programme: [...cycles, observed] },
      { estimateError: false, balance: false, coupling, until: readEnd(design), cancelled },
    ),
  );
  const sign = wirePath({ ...design, selected }).polarity[selectedIndex(design)]!;
  const own = run.contributions!.selectedCore;
  let at = 0;
  let area = 0;
  for (let i = 0; i < own.length; i++) {
    if (sign * own[i]! > sign * own[at]!) at = i;
    area += sign * own[i]! * design.numerics.output;
  }
  return {
    train: name,
    bit,
    peak: sign * own[at]!,
    peakTime: run.time[at]!,
    area,
    atStrobe: run.strobe.value,
    flux: run.selected.state[0]!,
    read: run.strobe.bit,
  };
}

function currentsOf(design: Design, bit: 0 | 1, { simulate }: DisturbOptions): Simulation {
  const selected = { ...design.selected, bit };
  return finished(
    simulate(
      { ...design, selected, programme: [{ ...selected, lines: 'both', read: true, write: 'restore' }] },
      { contributions: false, estimateError: false, balance: false, coupling: 0 },
    ),
  );
}

/** The cycle that leaves the bit: a ONE written, a ZERO kept by inhibit or (cleared) by a read with no write after. */
const writeOf = ({ selected }: Design, bit: 0 | 1, cleared: boolean): Cycle => ({
  row: selected.row,
  column: selected.column,
  lines: 'both',
  read: true,
  write: cleared ? 'none' : bit === 1 ? 'one' : 'zero',
});

const exceptionAt = ({ exceptions, selected }: Design): Design['exceptions'][number] | undefined =>
  exceptions.find((e) => e.row === selected.row && e.column === selected.column);
