import { COVERS, MOVABLES } from '../../state/lesson-board.ts';
import { html, nothing, type TemplateResult } from 'lit-html';
import type { BoardAbout } from '../../state/lesson-board.ts';
import type { RawDesign } from '../../model/pointer.ts';
import { choice } from '../../ui/choice.ts';
import { fileButton } from '../../ui/file-button.ts';
import { iconView } from '../../ui/icon-view.ts';
import { board as learningBoard } from '../course/bench.ts';
import { isOwn, type OwnStep } from '../made/lesson.ts';
import type { MadeWords } from '../words/made-words.ts';
import { askEditor } from './ask-editor.ts';
import type { Checked, Draft } from './draft.ts';
import { areaField, listOf, selectField, someOf, textField } from './fields.ts';
import { boardInputs, keyOf } from './inputs.ts';
import { newAsk } from './new-steps.ts';
import { titleOf } from './steps-list.ts';

export interface StepEditorOptions {
  readonly w: MadeWords;
  readonly draft: Draft;
  /** The design in Plan. */
  readonly planned: () => RawDesign;
  readonly onOpen: (raw: RawDesign, about: BoardAbout) => void;
  readonly onBoardFile: (file: File) => void;
}

/** The step that is open: every field of it, and what the engine says. */
export function stepEditor(options: StepEditorOptions): TemplateResult | typeof nothing {
  const { w, draft } = options;
  const place = draft.chosen.value;
  const step = draft.lesson.value.steps[place];
  if (!step) return nothing;
  const heading = html`<h2>${w.maker.editOf(place + 1, titleOf(w, step))}</h2>`;
  if (!isOwn(step))
    return html`${heading}
      <p class="note">${w.maker.courseStep}</p>`;
  return html`${heading}${ownEditor(options, step)}${checkedView(draft.checks.value.get(step))}`;
}

function ownEditor(options: StepEditorOptions, step: OwnStep): TemplateResult {
  const { w, draft } = options;
  const set = (change: Partial<OwnStep>): void => {
    const { varied, ...rest } = { ...step, ...change };
    draft.setStep(varied === undefined ? rest : { ...rest, varied });
  };
  return html`
    ${textField({ id: 'step-title', label: w.maker.stepTitle, value: step.title, onSet: (title) => set({ title }) })}
    ${areaField({ id: 'step-text', label: w.maker.text, value: step.text, onSet: (text) => set({ text }) })}
    ${areaField({ id: 'step-question', label: w.maker.question, value: step.question, onSet: (question) => set({ question }) })}
    <p class="field-title">${w.maker.answeredBy}</p>
    ${choice({
      title: w.maker.answeredBy,
      options: (['choose', 'number', 'draw', 'place', 'set'] as const).map(
        (kind) => [kind, w.kinds[kind]] as const,
      ),
      chosen: step.ask.kind,
      onChoose: (kind) => kind !== step.ask.kind && set({ ask: newAsk(w, kind) }),
    })}
    ${askEditor(w, step.ask, (ask) => set({ ask }))}
    ${areaField({ id: 'step-meaning', label: w.maker.meaning, value: step.meaning, onSet: (meaning) => set({ meaning }) })}
    ${boardEditor(options, step, set)} ${variedEditor(w, step, set)}
    ${someOf({ label: w.maker.covered, value: step.covered, options: COVERS.map((name) => [name, w.covers[name]] as const), onSet: (covered) => set({ covered }) })}
    ${someOf({ label: w.maker.movable, value: step.movable, options: MOVABLES.map((name) => [name, w.movables[name]] as const), onSet: (movable) => set({ movable }) })}
  `;
}

const boardEditor = (
  { w, planned, onOpen, onBoardFile }: StepEditorOptions,
  step: OwnStep,
  set: (change: Partial<OwnStep>) => void,
): TemplateResult =>
  html`<fieldset class="maker-board">
    <legend>${w.maker.board}</legend>
    <p>${w.maker.boardIs(String(step.board['name'] ?? ''))}</p>
    <div class="button-row">
      <button type="button" @click=${() => set({ board: learningBoard })}>${w.maker.boards.course}</button>
      <button type="button" @click=${() => set({ board: planned() })}>${w.maker.boards.plan}</button>
      ${fileButton({
        id: 'board-file',
        text: w.maker.boards.file,
        accept: '.json,application/json',
        onFile: onBoardFile,
      })}
      <button
        type="button"
        @click=${() => onOpen(step.board, { title: step.title, question: step.question })}
      >
        ${w.maker.showBoard}
      </button>
    </div>
  </fieldset>`;

function variedEditor(
  w: MadeWords,
  { varied }: OwnStep,
  set: (change: Partial<OwnStep>) => void,
): TemplateResult {
  const inputs = boardInputs(w.maker);
  return html`<fieldset class="maker-varied">
    <legend>${w.maker.varied}</legend>
    ${selectField({
      id: 'varied-input',
      label: w.maker.variedInput,
      value: varied ? keyOf(varied.pointers) : '',
      options: [['', w.maker.notVaried] as const, ...inputs.map(({ key, title }) => [key, title] as const)],
      onSet: (key) => {
        const input = inputs.find((each) => each.key === key);
        set({ varied: input && { pointers: input.pointers, values: varied?.values ?? [] } });
      },
    })}
    ${
      varied
        ? textField({
            id: 'varied-values',
            label: w.maker.values,
            value: varied.values.join(', '),
            onSet: (text) => set({ varied: { ...varied, values: listOf(text) } }),
          })
        : nothing
    }
  </fieldset>`;
}

const checkedView = (checked: Checked | undefined): TemplateResult | typeof nothing =>
  checked === undefined || checked.standing === 'busy'
    ? nothing
    : html`<ul class="checked">
        ${checked.said.map(
          (text) =>
            html`<li class=${checked.standing === 'ok' ? 'status-ok' : 'status-error'}>
              ${iconView(checked.standing === 'ok' ? 'ok' : 'error')}${text}
            </li>`,
        )}
      </ul>`;
