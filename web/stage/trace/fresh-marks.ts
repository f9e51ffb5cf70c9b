import { strobeUncertainties } from '../../../engine/strobe/envelope.ts';
import { seenSamples } from '../../model/traces.ts';
import type { Drawn, Fresh } from './main-data.ts';

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
