import { html, type TemplateResult } from 'lit-html';
import { h } from '../ui/dom.ts';
import { mount, type View } from '../ui/mount.ts';

/** One part of the bench under its title, kept drawn. `id` is that of the title. */
export function createSection(id: string, title: string, view: () => View): HTMLElement {
  const node = h('section', { class: 'bench-section', 'aria-labelledby': id });
  mount(
    node,
    () =>
      html`<h2 id=${id}>${title}</h2>
        ${view()}`,
  );
  return node;
}

export interface FormOptions {
  readonly name: string;
  readonly className?: string;
  readonly content: unknown;
  readonly onSubmit: (form: HTMLFormElement) => void;
}

/** A form that the page itself answers. */
export const formView = ({ name, className = 'place', content, onSubmit }: FormOptions): TemplateResult =>
  html`<form
    class=${className}
    aria-label=${name}
    @submit=${(event: Event) => {
      event.preventDefault();
      onSubmit(event.currentTarget as HTMLFormElement);
    }}
  >
    ${content}
  </form>`;

/** What can be done once there is a capture; before, `hint` says to take one. */
export const withCaptures = (some: boolean, hint: string, content: unknown): TemplateResult =>
  html`<p class="note" ?hidden=${some}>${hint}</p>
    <div class="bench-body" ?hidden=${!some}>${content}</div>`;
