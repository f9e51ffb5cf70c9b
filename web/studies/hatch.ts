import { s } from '../ui/dom.ts';

/** The pattern, to be filled in by its id, that marks what fails; `pitch` px between its strokes. */
export const hatchFailing = (id: string, pitch: number): SVGDefsElement =>
  s(
    'defs',
    {},
    s(
      'pattern',
      { id, width: pitch, height: pitch, patternUnits: 'userSpaceOnUse', patternTransform: 'rotate(45)' },
      s('line', { x1: 0, x2: 0, y1: 0, y2: pitch, class: 'hatch-fail' }),
    ),
  );
