import { withValueAt, type RawDesign } from './pointer.ts';

/** What does not change the traces: the instant of the strobe, the threshold, names. */
const NOT_PHYSICS = ['/strobe/time', '/detector/threshold', '/name', '/note', '/$schema'];

/** Equal for two designs whose traces are the same, whatever their strobe and threshold. */
export const physicsKey = (raw: RawDesign): string =>
  JSON.stringify(NOT_PHYSICS.reduce((design, pointer) => withValueAt(design, pointer, undefined), raw));
