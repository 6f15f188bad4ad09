// Starts the page's program. What makes it work without a network comes after everything that a first look needs.
import init from './whorl-app.js';

init({ module_or_path: './whorl-app_bg.wasm' });
addEventListener('load', () => setTimeout(() => import('./offline-start.js').catch(() => {}), 1000));
