import { html, type TemplateResult } from 'lit-html';
import { live } from 'lit-html/directives/live.js';
import {
  CURVES,
  DRAW_FAULTS,
  MEASURES,
  MOST,
  type ChooseAsk,
  type DrawAsk,
  type Measure,
  type NumberAsk,
  type OwnAsk,
  type OwnChoice,
  type PlaceAsk,
  type SetAsk,
} from '../made/lesson.ts';
import type { MadeWords } from '../words/made-words.ts';
import { areaField, listOf, selectField, textField } from './fields.ts';
import { boardInputs, keyOf } from './inputs.ts';

interface AskEditor<A extends OwnAsk> {
  readonly w: MadeWords;
  readonly ask: A;
  readonly onSet: (ask: OwnAsk) => void;
}

/** What belongs to the way in which a question is answered. */
export function askEditor(w: MadeWords, ask: OwnAsk, onSet: (ask: OwnAsk) => void): TemplateResult {
  switch (ask.kind) {
    case 'choose':
      return chooseEditor({ w, ask, onSet });
    case 'number':
      return numberEditor({ w, ask, onSet });
    case 'place':
      return placeEditor({ w, ask, onSet });
    case 'set':
      return setEditor({ w, ask, onSet });
    case 'draw':
      return drawEditor({ w, ask, onSet });
  }
}

const measureOptions = (w: MadeWords): readonly (readonly [Measure, string])[] =>
  (Object.keys(MEASURES) as Measure[]).map((name) => [name, w.measures[name]]);

function chooseEditor({ w, ask, onSet }: AskEditor<ChooseAsk>): TemplateResult {
  const { choices, measure } = ask;
  const setChoice = (at: number, change: Partial<OwnChoice>): void =>
    onSet({
      ...ask,
      choices: choices.map((each, k) => (k === at ? withoutEmpty({ ...each, ...change }) : each)),
    });
  return html`
    ${selectField({
      id: 'ask-measure',
      label: w.maker.measure,
      value: measure ?? '',
      options: [['' as const, w.maker.madeByMe], ...measureOptions(w)],
      onSet: (value) => {
        const { measure: _, right: __, ...rest } = ask;
        const plain = choices.map(({ text, whyNot }) => ({ text, whyNot }));
        onSet(value === '' ? { ...rest, right: 0, choices: plain } : { ...rest, measure: value });
      },
    })}
    <fieldset class="maker-choices">
      <legend>${w.maker.choices}</legend>
      ${choices.map((choice, k) => choiceEditor({ w, ask, choice, k, setChoice, onSet }))}
      <button
        type="button"
        ?disabled=${choices.length >= MOST.choices}
        @click=${() =>
          onSet({ ...ask, choices: [...choices, { text: w.maker.choice(choices.length + 1), whyNot: '' }] })}
      >
        ${w.maker.addChoice}
      </button>
    </fieldset>
  `;
}

interface ChoiceEditor extends AskEditor<ChooseAsk> {
  readonly choice: OwnChoice;
  readonly k: number;
  readonly setChoice: (at: number, change: Partial<OwnChoice>) => void;
}

const choiceEditor = ({ w, ask, choice, k, setChoice, onSet }: ChoiceEditor): TemplateResult =>
  html`<div class="maker-choice">
    ${textField({
      id: `choice-${k}`,
      label: w.maker.choice(k + 1),
      value: choice.text,
      onSet: (text) => setChoice(k, { text }),
    })}
    ${
      ask.measure === undefined
        ? html`<label class="check-label"
            ><input
              type="radio"
              name="right-choice"
              .checked=${live(ask.right === k)}
              @change=${() => onSet({ ...ask, right: k })}
            />${w.maker.isRight(k + 1)}</label
          >`
        : html`<div class="field-row">
            ${textField({ id: `choice-${k}-from`, label: w.maker.from, value: choice.from ?? '', size: 8, onSet: (from) => setChoice(k, { from }) })}
            ${textField({ id: `choice-${k}-to`, label: w.maker.to, value: choice.to ?? '', size: 8, onSet: (to) => setChoice(k, { to }) })}
          </div>`
    }
    ${textField({
      id: `choice-${k}-why`,
      label: w.maker.whyNot,
      value: choice.whyNot,
      onSet: (whyNot) => setChoice(k, { whyNot }),
    })}
    <button
      type="button"
      ?disabled=${ask.choices.length <= 2}
      @click=${() => {
        const choices = ask.choices.filter((_, at) => at !== k);
        const right =
          ask.right === undefined
            ? {}
            : { right: ask.right > k || ask.right === choices.length ? ask.right - 1 : ask.right };
        onSet({ ...ask, choices, ...right });
      }}
    >
      ${w.maker.removeChoice(k + 1)}
    </button>
  </div>`;

/** Limits that are left empty are not there. */
function withoutEmpty(choice: OwnChoice): OwnChoice {
  const { from, to, ...rest } = choice;
  return { ...rest, ...(from ? { from } : {}), ...(to ? { to } : {}) };
}

const wrongWays = ({ w, ask, onSet }: AskEditor<NumberAsk | PlaceAsk | SetAsk>): TemplateResult => html`
  ${areaField({ id: 'ask-low', label: w.maker.tooLow, value: ask.tooLow, onSet: (tooLow) => onSet({ ...ask, tooLow }) })}
  ${areaField({ id: 'ask-high', label: w.maker.tooHigh, value: ask.tooHigh, onSet: (tooHigh) => onSet({ ...ask, tooHigh }) })}
`;

const numberEditor = ({ w, ask, onSet }: AskEditor<NumberAsk>): TemplateResult => html`
  ${selectField({ id: 'ask-measure', label: w.maker.measure, value: ask.measure, options: measureOptions(w), onSet: (measure) => onSet({ ...ask, measure }) })}
  ${textField({
    id: 'ask-within',
    label: w.maker.within,
    value: String(ask.within),
    size: 5,
    onSet: (text) => onSet({ ...ask, within: Number(text.replace(',', '.')) }),
  })}
  ${wrongWays({ w, ask, onSet })}
`;

const placeEditor = ({ w, ask, onSet }: AskEditor<PlaceAsk>): TemplateResult => html`
  ${selectField({
    id: 'ask-moved',
    label: w.maker.moved,
    value: ask.moved,
    options: [
      ['strobe', w.moved.strobe],
      ['threshold', w.moved.threshold],
    ],
    onSet: (moved) => onSet({ ...ask, moved }),
  })}
  ${textField({ id: 'ask-least', label: w.maker.least, value: ask.least, size: 10, onSet: (least) => onSet({ ...ask, least }) })}
  ${wrongWays({ w, ask, onSet })}
`;

function setEditor({ w, ask, onSet }: AskEditor<SetAsk>): TemplateResult {
  const inputs = boardInputs(w.maker);
  return html`
    ${selectField({
      id: 'ask-input',
      label: w.maker.input,
      value: keyOf(ask.pointers),
      options: inputs.map(({ key, title }) => [key, title] as const),
      onSet: (key) => {
        const { pointers, unit, title } = inputs.find((each) => each.key === key)!;
        onSet({ ...ask, pointers, unit, name: title });
      },
    })}
    <div class="field-row">
      ${textField({ id: 'ask-from', label: w.maker.sliderFrom, value: ask.from, size: 9, onSet: (from) => onSet({ ...ask, from }) })}
      ${textField({ id: 'ask-to', label: w.maker.sliderTo, value: ask.to, size: 9, onSet: (to) => onSet({ ...ask, to }) })}
      ${textField({
        id: 'ask-places',
        label: w.maker.places,
        value: String(ask.places),
        size: 4,
        onSet: (text) => onSet({ ...ask, places: Number(text) }),
      })}
    </div>
    ${selectField({ id: 'ask-measure', label: w.maker.measure, value: ask.measure, options: measureOptions(w), onSet: (measure) => onSet({ ...ask, measure }) })}
    <div class="field-row">
      ${selectField({
        id: 'ask-sense',
        label: w.maker.sense,
        value: ask.sense,
        options: [
          ['atLeast', w.senses.atLeast],
          ['atMost', w.senses.atMost],
        ],
        onSet: (sense) => onSet({ ...ask, sense }),
      })}
      ${textField({ id: 'ask-target', label: w.maker.target, value: ask.target, size: 9, onSet: (target) => onSet({ ...ask, target }) })}
    </div>
    ${wrongWays({ w, ask, onSet })}
  `;
}

const drawEditor = ({ w, ask, onSet }: AskEditor<DrawAsk>): TemplateResult => html`
  ${selectField({
    id: 'ask-curve',
    label: w.maker.curve,
    value: ask.curve,
    options: CURVES.map((name) => [name, w.curves[name]] as const),
    onSet: (curve) => onSet({ ...ask, curve }),
  })}
  ${textField({ id: 'ask-at', label: w.maker.at, value: ask.at.join(', '), onSet: (text) => onSet({ ...ask, at: listOf(text) }) })}
  <div class="field-row">
    ${textField({ id: 'ask-most', label: w.maker.most, value: ask.most, size: 9, onSet: (most) => onSet({ ...ask, most }) })}
    ${textField({ id: 'ask-within', label: w.maker.drawWithin, value: ask.within, size: 9, onSet: (within) => onSet({ ...ask, within }) })}
  </div>
  <fieldset class="maker-choices">
    <legend>${w.maker.whyNots}</legend>
    ${DRAW_FAULTS.map((fault) =>
      textField({
        id: `ask-fault-${fault}`,
        label: w.faults[fault],
        value: ask.whyNot[fault] ?? '',
        onSet: (text) => {
          const { [fault]: _, ...rest } = ask.whyNot;
          onSet({ ...ask, whyNot: text === '' ? rest : { ...rest, [fault]: text } });
        },
      }),
    )}
  </fieldset>
`;
