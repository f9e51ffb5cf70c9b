import { h, put } from '../../ui/dom.ts';

/** ms between two pictures. */
const TICK = 50;

/** A button that lets time run; not there for readers who have asked for less motion. */
export function createPlay({ onTick }: { readonly onTick: () => void }): HTMLButtonElement {
  let timer: ReturnType<typeof setInterval> | undefined;
  const still = window.matchMedia('(prefers-reduced-motion: reduce)');
  const button = h('button', { type: 'button', click: () => run(timer === undefined) }, 'Let time pass');

  function run(on: boolean): void {
    clearInterval(timer);
    // A page that nobody sees, or that has gone on to another view, has nothing to show.
    timer = on ? setInterval(() => (button.offsetParent === null ? run(false) : onTick()), TICK) : undefined;
    put(button, on ? 'Hold' : 'Let time pass');
  }

  const respect = () => {
    run(false);
    button.hidden = still.matches;
  };
  still.addEventListener('change', respect);
  respect();
  return button;
}
