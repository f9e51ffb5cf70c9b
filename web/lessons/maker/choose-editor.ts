import { html, type TemplateResult } from 'lit-html';
import { live } from 'lit-html/directives/live.js';
import { MOST, type ChooseAsk, type OwnChoice } from '../made/lesson.ts';
import { measureOptions, type AskEditor } from './ask-parts.ts';
import { selectField, textField } from './fields.ts';

/** Choices with their limits, which the engine or the teacher tells right from wrong. */
export function chooseEditor({ w, ask, onSet }: AskEditor<ChooseAsk>): TemplateResult {
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
