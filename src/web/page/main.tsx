import { render } from 'preact';
import './style/style.css';

render(<main>pileway</main>, document.getElementById('page')!);
