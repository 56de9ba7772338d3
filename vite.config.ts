import react from '@vitejs/plugin-react';
import { defineConfig } from 'vite';

export default defineConfig({
  plugins: [react()],
  worker: { format: 'es' },
  build: {
    outDir: 'dist/web',
    emptyOutDir: true,
    sourcemap: false,
    assetsInlineLimit: 0, // the content policy lets no script or font stand inline
    chunkSizeWarningLimit: 2000,
  },
});
