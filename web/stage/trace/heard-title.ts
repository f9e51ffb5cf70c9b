import { wholeGain } from '../../../engine/sense-amplifier/referred.ts';
import { formatQuantity } from '../../../engine/base/format-quantity.ts';
import type { Design } from '../../../engine/design/design.ts';
import type { Atoms } from '../../state/atoms.ts';

/** Where the lane is heard and what was done to the signal on its way there. */
export function heardTitle(
  design: Design | undefined,
  heard: Atoms['heard']['value'],
): { readonly title: string; readonly note: string } {
  if (heard === 'wire') return { title: 'On the sense wire', note: 'signed, this design’s two reads' };
  if (!design) return { title: heard === 'latch' ? 'At the latch' : 'After the amplifier', note: '' };
  const { amplifier, detector } = design;
  const gain = wholeGain(amplifier);
  if (heard === 'amplifier')
    return {
      title: 'After the amplifier',
      note: `${amplifier.polarity === 'either' ? 'signed' : 'signed by the address'}, ÷ ${plain(gain)}, two reads; shaded: all cases`,
    };
  const rectified = amplifier.polarity === 'either' ? 'made positive, ' : 'signed by the address, ';
  const late = `${formatQuantity(detector.delay, 's', 3)} late`;
  return { title: 'At the latch', note: `amplifier out ÷ ${plain(gain)}, ${rectified}${late}` };
}

const plain = (value: number): string => String(Number(value.toPrecision(3)));
