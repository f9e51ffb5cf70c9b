import { html, type TemplateResult } from 'lit-html';
import {
  CURVES,
  DRAW_FAULTS,
  type DrawAsk,
  type NumberAsk,
  type OwnAsk,
  type PlaceAsk,
  type SetAsk,
} from '../made/lesson.ts';
import type { MadeWords } from '../words/made-words.ts';
import { measureOptions, type AskEditor } from './ask-parts.ts';
import { chooseEditor } from './choose-editor.ts';
import { areaField, listOf, selectField, textField } from './fields.ts';
import { boardInputs, keyOf } from './inputs.ts';

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
