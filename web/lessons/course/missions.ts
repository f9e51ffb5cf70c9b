import { withValueAt, type RawDesign } from '../../model/pointer.ts';
import type { Answer, Exhibit, Lesson, Step, StepTrace } from '../step.ts';
import { bellOf, board, choose, driven, runOf, seconds, tellPair, trace, volts, VOLTAGE } from './bench.ts';
import { ownBoard } from './own-board.ts';
import { realCapture } from './real-capture.ts';
import { slice } from './slice.ts';

/** Faults of the board, one of which each mission shows. */
const FAULTS = {
  late: withValueAt(board, '/cycle', { ...(board['cycle'] as object), stagger: '80 ns' }),
  weak: driven(340),
  missing: withValueAt(board, '/exceptions', [{ row: 1, column: 2, missing: true }]),
  backwards: withValueAt(board, '/exceptions', [{ row: 1, column: 2, reversed: true }]),
} as const satisfies Record<string, RawDesign>;
type Fault = keyof typeof FAULTS;

/** The wire as expected and as found. */
function found(fault: Fault): readonly [StepTrace, StepTrace] {
  const [good, bad] = [runOf(board), runOf(FAULTS[fault])];
  return [trace(good, good.senseVoltage, 'half', 'expected'), trace(bad, bad.senseVoltage, 'one', 'found')];
}

const SPAN = [0, 600e-9] as const;

/** `id` names no fault: it stands in the address. */
function mission(id: string, fault: Fault): Step {
  const order = Object.keys(FAULTS) as Fault[];
  const shown = (): Exhibit => ({ traces: found(fault), quantity: VOLTAGE, span: SPAN });
  return {
    id,
    exhibit: shown,
    ask: choose(...order),
    design: FAULTS[fault],
    compute() {
      const [good, bad] = [runOf(board), runOf(FAULTS[fault])];
      const own = (name: string, run: typeof good): Answer =>
        tellPair(name, 'at', volts(bellOf(run).value), seconds(bellOf(run).time));
      return {
        ...shown(),
        truth: { kind: 'choose', right: order.indexOf(fault) },
        answers: [own('expected', good), own('found', bad)],
      };
    },
  };
}

export const missions: Lesson = {
  id: 'missions',
  steps: [
    mission('capture-1', 'weak'),
    mission('capture-2', 'late'),
    mission('capture-3', 'backwards'),
    slice,
    ownBoard,
    realCapture,
  ],
};
