import { designToJson } from '../design/design-to-json.ts';
import type { Design } from '../design/design.ts';
import { changeBetween, type StageChange } from '../stages/change.ts';
import { stagesOf, type Stage } from '../stages/stage.ts';
import { changeSentences, stageSentence, tellsOf } from '../stages/stage-words.ts';
import { readTraces, type ReadTraces, type Simulate } from './expected-traces.ts';

/** A stage of the build with what it is to show. */
export interface PackStage extends Stage {
  /** Of all but the whole, whose traces stand at its first power-up. */
  readonly traces: ReadTraces | undefined;
  /** From the stage before; undefined of the first. */
  readonly change: StageChange | undefined;
}

/** @param strobe s, of the final design */
export function packStages(design: Design, strobe: number, run: Simulate): readonly PackStage[] {
  const stages = stagesOf(design);
  return stages.map((stage, i) => ({
    ...stage,
    traces: stage.name === 'whole' ? undefined : readTraces(stage.design, run),
    change: i === 0 ? undefined : changeBetween(stages[i - 1]!.design, stage.design, strobe, run),
  }));
}

/** "stage-1-rig.json": what captures of a stage are fitted with. */
export const stageFileName = (stages: readonly Stage[], stage: Stage): string =>
  `stage-${stages.indexOf(stage) + 1}-${stage.name}.json`;

/** The design files of the stages before the whole, which is design.json. */
export const stageFiles = (stages: readonly PackStage[]): Readonly<Record<string, string>> =>
  Object.fromEntries(
    stages
      .filter(({ name }) => name !== 'whole')
      .map((stage) => [
        stageFileName(stages, stage),
        `${JSON.stringify(designToJson(stage.design), null, 2)}\n`,
      ]),
  );

/** What changes from stage to stage, by what is changed and by cause. */
export function stageRows(stages: readonly PackStage[]): string[][] {
  const mV = (volts: number): string => (volts * 1e3).toFixed(3).replace(/^-(?=[0.]+$)/u, '');
  return [
    ['to_stage', 'changed', 'cause', 'at_strobe_mV', 'greatest_mV'],
    ...stages.flatMap(({ name, change }) =>
      (change?.parts ?? []).map((part) => [
        name,
        part.group,
        part.cause,
        mV(part.atStrobe),
        mV(part.greatest),
      ]),
    ),
  ];
}

export const stageJson = (stage: PackStage) => ({
  name: stage.name,
  title: stage.title,
  build: stageSentence(stage),
  ...tellsOf(stage),
  change: stage.change && {
    strobe: stage.change.strobe,
    parts: stage.change.parts,
    total: stage.change.total,
    sentences: changeSentences(stage.change),
  },
});
