import react from '@vitejs/plugin-react'
import type { Plugin } from 'vite'
import { defineConfig } from 'vitest/config'
import { amount } from './tests/kit/amount.ts'
import { pagePolicy } from './tests/kit/pagePolicy.ts'

/** While developing, the reloading client puts scripts and styles into the page's text; what is built has none and keeps its policy. */
const withoutPolicy: Plugin = {
  name: 'without-policy',
  apply: 'serve',
  transformIndexHtml: (html) => html.replace(/<meta\s+http-equiv="Content-Security-Policy"[^>]*>/, ''),
}

export default defineConfig({
  base: './',
  plugins: [react(), withoutPolicy],
  preview: { headers: { 'Content-Security-Policy': pagePolicy() } },
  worker: { format: 'es' },
  build: { target: 'es2022', chunkSizeWarningLimit: 2500 },
  test: {
    maxWorkers: '100%', // its default leaves a core idle, which is half of a small machine
    projects: [
      {
        extends: true,
        test: {
          name: 'unit',
          include: ['tests/**/*.test.ts', 'tests/**/*.test.tsx'],
          exclude: ['tests/browser/**', 'tests/parity/**'],
          environment: 'node',
          testTimeout: amount(60_000, 600_000),
          hookTimeout: amount(60_000, 600_000),
          isolate: false,
          setupFiles: ['tests/kit/freshModules.ts'],
        },
      },
      {
        extends: true,
        test: {
          name: 'parity',
          include: ['tests/parity/**/*.test.ts'],
          fileParallelism: false, // a device that the processor plays takes all its cores already
          environment: 'node',
          testTimeout: 600_000,
          hookTimeout: 120_000,
        },
      },
      {
        extends: true,
        test: {
          name: 'browser',
          include: ['tests/browser/**/*.test.ts'],
          globalSetup: ['tests/browser/setup.ts'],
          isolate: false, // each test has a browser context of its own; the modules may be shared
          environment: 'node',
          testTimeout: 120_000,
          hookTimeout: 120_000,
          expect: { poll: { timeout: 30_000 } },
        },
      },
    ],
  },
})
