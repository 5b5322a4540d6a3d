/**
 * What lives here: the browser app. `shell` is the frame of every page, `screens` the six questions and the first day, `drawings`
 * pure functions from the rig's data to SVG, `replica` the worker with the rig's entries and everything worked out from them.
 */
import { render } from 'preact';
import './shell/theme.css';
import './shell/base.css';
import './shell/fields.css';
import './shell/shell.css';
import { App } from './shell/app.tsx';
import { followTheme } from './shell/theme.ts';
import { keepOffline } from './shell/version.ts';

followTheme();
render(<App />, document.getElementById('app')!);

if (import.meta.env.PROD && 'serviceWorker' in navigator) void keepOffline();
