import type { Lesson } from '../step.ts';
import { magnetOnACore } from './magnet.ts';
import { manyCores } from './many-cores.ts';
import { missions } from './missions.ts';
import { oneCore } from './one-core.ts';
import { theMachine } from './the-machine.ts';
import { whatChanges } from './what-changes.ts';
import { whatIsHeard } from './what-is-heard.ts';
import { whenToLook } from './when-to-look.ts';

/** The course, in rising difficulty. */
export const LESSONS: readonly Lesson[] = [
  oneCore,
  whatIsHeard,
  manyCores,
  whenToLook,
  whatChanges,
  theMachine,
  magnetOnACore,
  missions,
];
