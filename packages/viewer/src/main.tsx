import { StrictMode } from 'react';
import { createRoot } from 'react-dom/client';
import { App } from './app.tsx';
import { keepForOffline } from './habits/offline.ts';
import { loadEditor } from './state/index.ts';
import { startEarly } from './worker/compute-client.ts';
import './look/look.css';

const query = new URLSearchParams(window.location.search);
keepForOffline(query);
// What the first picture needs is fetched side by side, not each when the one before has been read.
startEarly();
void loadEditor();
void import('./scene/Picture.tsx');
createRoot(document.getElementById('bench')!).render(
  <StrictMode>
    <App query={query} />
  </StrictMode>,
);
