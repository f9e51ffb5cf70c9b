import { h } from '../dom.ts';
export const createTermsView = (): HTMLElement => h('div', {}, h('h1', {}, 'Terms'));
