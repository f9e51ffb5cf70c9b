import { glossary, sources } from './glossary.ts';
import { made } from './made.ts';
import { magnet } from './magnet.ts';
import { manyCores } from './many-cores.ts';
import { missions } from './missions.ts';
import { onStage } from './on-stage.ts';
import { oneCore } from './one-core.ts';
import { theMachine } from './the-machine.ts';
import { learn, loopChart, say, scores, terms } from './view.ts';
import { whatChanges } from './what-changes.ts';
import { whatIsHeard } from './what-is-heard.ts';
import { whenToLook } from './when-to-look.ts';

export const en = {
  language: 'en',
  say,
  scores,
  learn,
  onStage,
  loopChart,
  terms,
  sources,
  glossary,
  made,
  lessons: {
    'one-core': oneCore,
    'what-is-heard': whatIsHeard,
    'many-cores': manyCores,
    'when-to-look': whenToLook,
    'what-changes': whatChanges,
    'the-machine': theMachine,
    magnet,
    missions,
  },
} as const;
