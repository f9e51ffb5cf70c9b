import 'virtual:tokens.css';
import './styles.css';
import { h } from './dom.ts';
import { fakeRun } from './fake-run.ts';
import { createState } from './state.ts';
import { createPlanView } from './views/plan.ts';

const state = createState({
  name: 'Fake',
  mat: { rows: 16, columns: 16 },
  winding: { kind: 'shared-two-halves' },
  strobe: { time: '260 ns' },
  detector: { threshold: '20 mV' },
});
document
  .querySelector('#app')!
  .replaceChildren(h('header', { class: 'page-header' }, h('h1', {}, 'Strobewright')), createPlanView(state));
state.run.set(fakeRun());
