import { html, type TemplateResult } from 'lit-html';

/** A button that opens a list under it; closes by Esc, a click elsewhere, or a choice. `entries` are buttons, links or fields. */
export const menu = (title: unknown, entries: unknown, className = ''): TemplateResult => html`
  <details class="menu ${className}" @toggle=${onToggle} @keydown=${onKey} @click=${onChoice}>
    <summary>${title}</summary>
    <div class="menu-list">${entries}</div>
  </details>
`;

function onToggle({ currentTarget }: Event): void {
  const opened = currentTarget as HTMLDetailsElement;
  if (!opened.open) return;
  const close = (event: Event): void => {
    if (event.target instanceof Node && opened.contains(event.target)) return;
    opened.open = false;
    document.removeEventListener('pointerdown', close);
  };
  document.addEventListener('pointerdown', close);
}

function onKey(event: KeyboardEvent): void {
  const opened = event.currentTarget as HTMLDetailsElement;
  if (event.key !== 'Escape' || !opened.open) return;
  opened.open = false;
  opened.querySelector('summary')!.focus();
  event.stopPropagation();
}

function onChoice(event: Event): void {
  const target = event.target as Element;
  if (target.closest('.menu-list :is(button, a)')) (event.currentTarget as HTMLDetailsElement).open = false;
}
