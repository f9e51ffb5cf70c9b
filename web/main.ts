import 'virtual:tokens.css';
import './ui/base.css';
import './charts/charts.css';
import './ui/panels.css';
import { startApp } from './app.ts';

void startApp(document.querySelector<HTMLElement>('#app')!);
