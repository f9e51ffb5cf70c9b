import { escapeText, keepUnits, paragraph } from '../report/markup.ts';
import { changeSentences, stageSentence, tellsOf } from '../stages/stage-words.ts';
import type { BuildPack } from './pack.ts';
import { stageFileName, type PackStage } from './pack-stages.ts';
import { readMarkOf, traceFigure, type ReadMark } from './plan-sheet.ts';
import { BOX } from './sheet-marks.ts';

/** What to build before the whole, what each shows, what it can tell, and what changes from one to the next. */
export function stagesPart(pack: BuildPack): string {
  const { stages } = pack;
  const mark = readMarkOf(pack);
  const items = stages.map((stage, i) => stagePart(stages, stage, i, mark));
  return (
    paragraph(
      'Each stage is a design of its own, in a file beside this sheet: change its leads, its probe and its cores to what you have. Take captures, fit them with the stage’s file, and carry what was found over to the final design (strobewright carry).',
    ) + `<ol class="plan">${items.join('')}</ol>`
  );
}

function stagePart(stages: readonly PackStage[], stage: PackStage, index: number, mark: ReadMark): string {
  const { tells, not } = tellsOf(stage);
  const row = (name: string, text: string): string =>
    `<div><dt>${name}</dt><dd>${escapeText(keepUnits(text))}</dd></div>`;
  const change = stage.change
    ? changeSentences(stage.change).map((text, i) => row(i === 0 ? 'Changes' : '', text))
    : [];
  const file = stage.name === 'whole' ? 'design.json' : stageFileName(stages, stage);
  const drawn = stage.traces
    ? traceFigure([stage.traces.read, stage.traces.zero], `stage-${index}`, mark)
    : '';
  return [
    `<li><h3>${BOX}${index + 1} ${escapeText(stage.title)} <span class="quiet">${file}</span></h3><dl>`,
    row('Build', stageSentence(stage)),
    row('It tells', `${tells.join('; ')}.`),
    row('Not', `${not.join('; ')}.`),
    ...change,
    `</dl>${drawn}</li>`,
  ].join('');
}
