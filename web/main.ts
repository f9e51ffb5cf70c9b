import 'virtual:tokens.css';
import './styles.css';
import { startApp } from './app.ts';

void startApp(document.querySelector('#app')!);
