// Entry of the pages: typefaces, tokens, theme, live feed, shell.
import '@fontsource-variable/newsreader/wght.css';
import '@fontsource-variable/public-sans/wght.css';
import './tokens.css';
import './base.css';
import './elements/stillpropApp.js';
import { liveFeed } from './liveFeed.js';
import { applyKeptTheme, printInLight } from './theme.js';

applyKeptTheme();
printInLight();
liveFeed.start();
