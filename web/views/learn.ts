import { h } from '../dom.ts';
export const createLearnView = (): HTMLElement => h('div', {}, h('h1', {}, 'Learn'));
