import { render } from 'preact';
// oxlint-disable-next-line import/no-unassigned-import
import './style/style.css';
import { App } from './app.tsx';

render(<App />, document.getElementById('page')!);
