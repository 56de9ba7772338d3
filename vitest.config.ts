import { defineConfig } from 'vitest/config';

export default defineConfig({
  test: {
    include: ['test/**/*.test.ts'],
    testTimeout: 180_000, // a hang, not a slow machine, should fail a test
    hookTimeout: 240_000,
    maxWorkers: 2,
    env: { TZ: 'UTC' },
  },
});
