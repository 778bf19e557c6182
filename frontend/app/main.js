import { start } from './router.js';

start();
