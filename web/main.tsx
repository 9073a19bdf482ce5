import { StrictMode } from 'react';
import { createRoot } from 'react-dom/client';
import { QueryClientProvider } from '@tanstack/react-query';
import { RouterProvider } from '@tanstack/react-router';
import '@fontsource/source-sans-3/400.css';
import '@fontsource/source-sans-3/600.css';
import '@fontsource/source-serif-4/400.css';
import '@fontsource/source-serif-4/600.css';
import './styles/index.css';
import { speakPlainly } from '../api/schemas/must-be.ts';
import { onBooksMoved } from './lib/books-moved.ts';
import { createQueryClient } from './lib/query-client.ts';
import { startSendingWaiting } from './lib/waiting-entries.ts';
import { createPages } from './router.tsx';

speakPlainly();

const root = document.getElementById('root');
if (root === null) throw new Error('The page has no element with the id "root".');

const client = createQueryClient();
onBooksMoved(() => void client.invalidateQueries());
startSendingWaiting();

createRoot(root).render(
  <StrictMode>
    <QueryClientProvider client={client}>
      <RouterProvider router={createPages()} />
    </QueryClientProvider>
  </StrictMode>,
);
