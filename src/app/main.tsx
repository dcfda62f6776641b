import { render } from 'preact';
import './styles/tokens.css';
import './styles/base.css';
import './styles/parts.css';
import './styles/shell.css';
import './styles/stage.css';
import './styles/readings.css';
import './styles/layers.css';
import './styles/plan.css';
import './styles/yard.css';
import './styles/keys.css';
import './styles/layout.css';
import { keepFocus } from './focus-kept';
import { becomeOffline } from './offline';
import { App } from './shell/app';

const root = document.getElementById('app');
if (root) render(<App />, root);
keepFocus(document);
// Two frames on, the first screen is painted; what is stored for offline use may come now.
requestAnimationFrame(() => requestAnimationFrame(becomeOffline));
