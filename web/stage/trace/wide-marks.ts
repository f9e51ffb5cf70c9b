import type { LabelWish } from '../../charts/labels.ts';
import type { Band, Line } from '../../charts/marks.ts';
import { coreEnvelope, cornerEnvelope } from '../../model/envelopes.ts';
import { samplesOf, samplesOn } from '../../model/traces.ts';
import type { Judged } from './main-data.ts';

export interface WideMarks {
  readonly bands: readonly Band[];
  readonly lines: readonly Line[];
  readonly labels: readonly LabelWish[];
}

const NONE: WideMarks = { bands: [], lines: [], labels: [] };

/**
 * How far the worst cases go beyond those of the design as it stands: a quiet band to the corners, with their edge and
 * its name while they are the evidence that is looked at; or to the cores that it could be.
 */
export function wideMarks(
  { run, strobe }: Judged,
  evidence: 'corners' | 'core' | undefined,
  follows: boolean,
): WideMarks {
  const wide =
    evidence === 'core' && run.ensemble ? coreEnvelope(run.ensemble, follows) : cornerEnvelope(strobe);
  if (!wide) return NONE;
  const [one, zero] = [samplesOn(wide.time, wide.one), samplesOn(wide.time, wide.zero)];
  const bands: Band[] = [
    { style: 'wide-one', low: one, high: samplesOf(run, strobe.envelope.one) },
    { style: 'wide-zero', low: samplesOf(run, strobe.envelope.zero), high: zero },
  ];
  if (evidence === undefined) return { ...NONE, bands };
  const name = evidence === 'core' ? 'cores it could be' : 'at the corners';
  return {
    bands,
    lines: [
      { style: 'wide-one', samples: one },
      { style: 'wide-zero', samples: zero },
    ],
    labels: [
      { text: `ONE, ${name}`, style: 'wide-one', samples: one, side: 'below', near: strobe.time },
      { text: `ZERO, ${name}`, style: 'wide-zero', samples: zero, side: 'above', near: strobe.time },
    ],
  };
}
