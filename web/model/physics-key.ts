import { rawAt, withValueAt, type RawDesign } from './pointer.ts';

const STROBE_PLACE = ['/strobe/time', '/detector/threshold'];
/** What does not change the traces: the instant of the strobe, the threshold, names. */
const NOT_PHYSICS = [...STROBE_PLACE, '/name', '/note', '/$schema'];

/** Equal for two designs whose traces are the same, whatever their strobe and threshold. */
export const physicsKey = (raw: RawDesign): string =>
  JSON.stringify(NOT_PHYSICS.reduce((design, pointer) => withValueAt(design, pointer, undefined), raw));

/** The same with strobe and threshold: what a judgement or an answer about the whole design is of. */
export const wholeKey = (raw: RawDesign): string =>
  JSON.stringify([physicsKey(raw), ...STROBE_PLACE.map((pointer) => rawAt(raw, pointer))]);
