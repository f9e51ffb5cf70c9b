import { checkDesign } from '../../engine/check/check-design.ts';
import { designToJson } from '../../engine/design/design-to-json.ts';
import { SET_NAMES } from '../../engine/design/requirement.ts';
import { randomStream } from '../../engine/numerics/random.ts';
import { randomDesignFile, type DesignFile } from '../random-design.ts';

/** What a file says of its core where everything is known of it: no range, nothing assumed. */
const KNOWN = ['name', 'parameters'] as const;

/**
 * The file of a random design of which a whole window takes a second or two: at most 2 x 2 cores, one section of wire,
 * long steps, few tolerances that stray, and of three cores two of which everything is given. Threshold, requirement
 * and the sets asked for are drawn too, so that what decides is now this set, now that one.
 */
export function lightDesignFile(seed: number): DesignFile {
  const random = randomStream(seed, 80);
  const file = randomDesignFile(seed, { largest: 2, history: false, cable: false });
  const some = <T>(value: T, none: T, share: number): T => (random() < share ? value : none);
  const tolerances = {
    drive: some(0.005 + 0.03 * random(), 0, 0.6),
    supply: some(0.01 + 0.04 * random(), 0, 0.2),
    temperature: some('10 K', '0 K', 0.3),
    threshold: 0.05 * random(),
    strobe: '1 ns',
  };
  const { core } = designToJson(checkDesign(file)) as { core: Readonly<Record<string, unknown>> };
  const known = Object.fromEntries(KNOWN.map((name) => [name, core[name]]));
  const sets = SET_NAMES.filter((name) => name !== 'parts' && random() < 0.5);
  return {
    ...file,
    core: some<unknown>(known, file['core'], 2 / 3),
    tolerances,
    numerics: { sections: 1, step: '8 ns', output: '4 ns' },
    detector: { threshold: `${(4 + 26 * random()).toFixed(1)} mV`, uncertainty: '1 mV', hysteresis: '1 mV' },
    requirement: {
      margin: `${(6 * random()).toFixed(1)} mV`,
      width: '10 ns',
      ...(sets.length > 0 ? { sets } : {}),
    },
  };
}
