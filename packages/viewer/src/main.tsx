import { StrictMode } from 'react';
import { createRoot } from 'react-dom/client';
import { App } from './app.tsx';
import { keepForOffline } from './habits/offline.ts';
import './look/look.css';

const query = new URLSearchParams(window.location.search);
keepForOffline(query);
createRoot(document.getElementById('bench')!).render(
  <StrictMode>
    <App query={query} />
  </StrictMode>,
);
