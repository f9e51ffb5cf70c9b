import { strobeUncertainties } from '../../../engine/strobe/envelope.ts';
import { seenSamples } from '../../model/traces.ts';
import type { Design } from '../../../engine/design/design.ts';
import type { Simulation } from '../../../engine/solver/result.ts';
import type { Drawn } from './main-chart.ts';

/** The design's own reads, newer than any analysis at hand; one of them may still be on its way. */
export interface Fresh {
  readonly design: Design;
  readonly one: Simulation | undefined;
  readonly zero: Simulation | undefined;
}

/** The design's own reads with the threshold, while nothing has been judged. */
export function drawFresh({ design, one, zero }: Fresh): Drawn {
  const level = design.detector.threshold;
  const uncertain = strobeUncertainties(design).threshold;
  const shown = [
    ...(one
      ? [{ style: 'one' as const, samples: seenSamples(one), text: 'ONE', side: 'above' as const }]
      : []),
    ...(zero
      ? [{ style: 'zero' as const, samples: seenSamples(zero), text: 'ZERO', side: 'below' as const }]
      : []),
  ];
  return {
    lines: shown,
    labels: shown,
    thresholdZone: { low: level - uncertain, high: level + uncertain },
    threshold: level,
    strobe: design.strobe.time,
  };
}
