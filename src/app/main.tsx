import { registerSW } from 'virtual:pwa-register';
import { render } from 'preact';

const root = document.getElementById('app');
if (root) render(<h1>Waneline</h1>, root);

registerSW();
