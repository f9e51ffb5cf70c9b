import { signal } from '@preact/signals-core';
import type { Design } from '../../../engine/design/design.ts';
import type { CoreShares } from '../../../engine/solver/result.ts';
import type { TimeSpan } from '../../charts/spaces.ts';
import { createSideClient } from '../../compute/side-client.ts';
import type { Run } from '../../model/run.ts';
import { frameInstants, nearestFrame } from '../../model/share-frames.ts';
import type { Page } from '../../state/page.ts';

export interface MatShares {
  /**
   * What each core gives at an instant, s; while that is worked out what they give at the nearest instant of `span`
   * that is known, which says its own time. Undefined: nothing of this design and bit is known yet.
   */
  of(run: Run, bit: 0 | 1, at: number, span: TimeSpan): CoreShares | undefined;
}

/** Of larger mats one instant at a time is kept: all of a span would take tens of megabytes. */
const MOST_CORES = 64 * 64;

/** Of one design and bit. */
interface Known {
  readonly design: Design;
  readonly bit: 0 | 1;
  /** The instant asked for last, and the last one answered. */
  asked: number | undefined;
  exact: { readonly at: number; readonly shares: CoreShares } | undefined;
  span: TimeSpan | undefined;
  frames: readonly CoreShares[];
  /** All instants of a span are being worked out; whatever else is asked waits for them. */
  filling: boolean;
}

const made = new WeakMap<Page, MatShares>();

/** What every core gives, for all regions that show it: one worker of its own, once it is wanted. */
export function matShares(page: Page): MatShares {
  const shares = made.get(page) ?? createMatShares();
  made.set(page, shares);
  return shares;
}

function createMatShares(): MatShares {
  const client = createSideClient(Infinity);
  let known: Known | undefined;
  /** Counts answers, so that whoever has asked looks again. */
  const answers = signal(0);

  const ask = (of: Known, at: readonly number[], onAnswer: (found: readonly CoreShares[]) => void): void =>
    client.ask(
      'shares',
      { design: { ...of.design, selected: { ...of.design.selected, bit: of.bit } }, at },
      {
        onAnswer: (found) => {
          onAnswer(found);
          answers.value++;
        },
        onFailed: () => {
          of.filling = false;
        },
      },
    );

  function fill(of: Known, span: TimeSpan, end: number): void {
    const { rows, columns } = of.design.mat;
    if (rows * columns > MOST_CORES || (of.span?.from === span.from && of.span.to === span.to)) return;
    of.filling = true;
    ask(of, frameInstants(span, end), (found) => {
      of.filling = false;
      of.span = span;
      of.frames = found;
    });
  }

  return {
    of(run, bit, at, span) {
      void answers.value;
      const { design } = run;
      if (known?.design !== design || known.bit !== bit)
        known = {
          design,
          bit,
          asked: undefined,
          exact: undefined,
          span: undefined,
          frames: [],
          filling: false,
        };
      const of = known;
      if (of.asked !== at && !of.filling) {
        of.asked = at;
        ask(of, [at], ([found]) => {
          of.exact = found && { at, shares: found };
          fill(of, span, run.one.time.at(-1) ?? span.to);
        });
      }
      if (of.exact?.at === at) return of.exact.shares;
      return nearestFrame(of.frames, at) ?? of.exact?.shares;
    },
  };
}
