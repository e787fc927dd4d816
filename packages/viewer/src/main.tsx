import { StrictMode } from 'react';
import { createRoot } from 'react-dom/client';
import { App } from './app.tsx';
import './look/look.css';

createRoot(document.getElementById('bench')!).render(
  <StrictMode>
    <App query={new URLSearchParams(window.location.search)} />
  </StrictMode>,
);
