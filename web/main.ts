import 'virtual:tokens.css';
import './ui/base.css';
import './charts/grips.css';
import './charts/charts.css';
import './charts/bands.css';
import './charts/mat-and-loop.css';
import './ui/parts.css';
import './ui/panels.css';
import './ui/tables.css';
import './shelf/editor.css';
import './lessons/reading.css';
import './charts/forced-colours.css';
import './lessons/learn-plot.css';
import { startApp } from './app.ts';

void startApp(document.querySelector<HTMLElement>('#app')!);
