import { checkDesign } from '../../../engine/check/check-design.ts';
import type { Design } from '../../../engine/design/design.ts';
import { simulate } from '../../../engine/simulate/simulate.ts';
import type { Simulation } from '../../../engine/solver/result.ts';
import { runEnsemble } from '../../../engine/strobe/ensemble.ts';
import type { StrobeEnsemble } from '../../../engine/strobe/ensemble-result.ts';
import { windowOf } from '../../../engine/strobe/window-of.ts';
import type { StrobeWindow } from '../../../engine/strobe/window-result.ts';
import type { RawDesign } from '../../model/pointer.ts';
import { halfSelectedOf, runOf, withBit } from '../course/bench.ts';
import type { Curve, Measure } from './lesson.ts';

/** Part of the read pulse in which a bell is sought: its trailing edge makes a spike of its own. */
const WITHIN_READ = 0.9;

/** What the engine says of one board, each part computed when it is first asked for. Throws DesignError for a board that does not hold. */
export class Bench {
  readonly design: Design;
  private readonly raw: RawDesign;
  private readonly runs = new Map<0 | 1, Simulation>();
  private ensemble: StrobeEnsemble | undefined;

  constructor(raw: RawDesign) {
    this.raw = raw;
    this.design = checkDesign(raw);
  }

  read(bit: 0 | 1): Simulation {
    let run = this.runs.get(bit);
    if (!run) this.runs.set(bit, (run = runOf(this.raw, withBit(bit))));
    return run;
  }

  /** Worst cases as designed, the ones that are tried first. Throws where a run ends early. */
  judged(): StrobeEnsemble {
    if (this.ensemble) return this.ensemble;
    const ensemble = runEnsemble(this.design, { simulate, cases: 'quick' });
    if (!('envelope' in ensemble)) throw new RangeError(ensemble.failed.name);
    return (this.ensemble = ensemble);
  }

  /** At the strobe and threshold of the design; at the best strobe where it gives none. */
  window(at: { time?: number | undefined; threshold?: number } = {}): StrobeWindow {
    const { strobe, detector } = this.design;
    const time = 'time' in at ? at.time : strobe.time;
    return windowOf(this.judged(), { time, threshold: at.threshold ?? detector.threshold });
  }

  /** SI; undefined where the board has no such thing, as a window that is closed. */
  measure(name: Measure): number | undefined {
    switch (name) {
      case 'bell':
        return this.bell().value;
      case 'bellTime':
        return this.bell().time;
      case 'zeroPeak':
        return greatest(this.read(0), this.read(0).senseVoltage).value;
      case 'left':
        return this.window().margin.left;
      case 'best':
        return this.window({ time: undefined }).inForce.time;
      case 'window':
        return this.window({ time: undefined }).strobe?.width;
      case 'oneAtStrobe':
        return this.window().margin.one + this.window().inForce.threshold;
      case 'zeroAtStrobe':
        return this.window().inForce.threshold - this.window().margin.zero;
    }
  }

  /** Drawn upright: a ONE is heard upward. */
  curve(name: Curve): { readonly time: Float64Array; readonly values: Float64Array } {
    const one = this.read(1);
    const run = name === 'zero' ? this.read(0) : one;
    const sign = Math.sign(greatest(one, one.contributions!.selectedCore, true).signed) || 1;
    const heard = {
      one: () => run.senseVoltage,
      zero: () => run.senseVoltage,
      selected: () => run.contributions!.selectedCore,
      half: () => halfSelectedOf(run),
    }[name]();
    return { time: run.time, values: heard.map((value) => value * sign) };
  }

  private bell() {
    return greatest(this.read(1), this.read(1).contributions!.selectedCore, true);
  }
}

/** Greatest size within the read pulse, V, and where; after the drive has risen where a bell is sought. */
function greatest(
  { time, design }: Simulation,
  values: Float64Array,
  risen = false,
): { readonly time: number; readonly value: number; readonly signed: number } {
  const { x, y } = design.drive;
  const from = risen ? Math.max(x.rise, y.rise) : 0;
  const to = design.cycle.readWidth * WITHIN_READ;
  let at = -1;
  time.forEach((t, i) => {
    if (t >= from && t <= to && (at < 0 || Math.abs(values[i]!) > Math.abs(values[at]!))) at = i;
  });
  const signed = values[at] ?? 0;
  return { time: time[at] ?? 0, value: Math.abs(signed), signed };
}
