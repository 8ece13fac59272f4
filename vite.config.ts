import react from '@vitejs/plugin-react'
import type { Plugin } from 'vite'
import { defineConfig } from 'vitest/config'
import { offline } from './scripts/offline/plugin.ts'
import { amount } from './tests/kit/amount.ts'
import { pagePolicy } from './tests/kit/pagePolicy.ts'

/** While developing, the reloading client puts scripts and styles into the page's text; what is built has none and keeps its policy. */
const withoutPolicy: Plugin = {
  name: 'without-policy',
  apply: 'serve',
  transformIndexHtml: (html) => html.replace(/<meta\s+http-equiv="Content-Security-Policy"[^>]*>/, ''),
}

/** Physics runs by Node's own `import`: through Vite's module runner each call of an imported function costs, up to four times in loops over rays. */
const native = {
  environment: 'node' as const,
  isolate: false,
  setupFiles: ['tests/kit/cleanUp.ts'],
  execArgv: ['--import', new URL('scripts/typescript.mjs', import.meta.url).href, '--enable-source-maps'],
  experimental: { viteModuleRunner: false, nodeLoader: false },
}

/** Lamps drawn at random: a third of the time of all tests of physics, so a suite of its own. */
const RANDOM = ['tests/fuzz/**/*.test.ts', 'tests/planted/**/*.test.ts']

export default defineConfig({
  base: './',
  plugins: [react({ jsxImportSource: '#shown' }), withoutPolicy, offline()],
  preview: { headers: { 'Content-Security-Policy': pagePolicy() } },
  worker: { format: 'es' },
  build: { target: 'es2022', chunkSizeWarningLimit: 2500 },
  test: {
    maxWorkers: '100%', // its default leaves a core idle, which is half of a small machine
    projects: [
      {
        extends: true,
        test: {
          ...native,
          name: 'unit',
          include: ['tests/**/*.test.ts'],
          exclude: ['tests/app/**', 'tests/browser/**', 'tests/parity/**', ...RANDOM],
          testTimeout: amount(60_000, 600_000),
          hookTimeout: amount(60_000, 600_000),
        },
      },
      {
        extends: true,
        test: {
          ...native,
          name: 'random',
          include: RANDOM,
          testTimeout: amount(60_000, 600_000),
          hookTimeout: amount(60_000, 600_000),
        },
      },
      {
        extends: true,
        test: {
          name: 'unit-app',
          include: ['tests/app/**/*.test.{ts,tsx}'],
          environment: 'node',
          isolate: false,
          setupFiles: ['tests/kit/cleanUp.ts', 'tests/kit/freshModules.ts'],
        },
      },
      {
        extends: true,
        test: {
          ...native,
          name: 'parity',
          include: ['tests/parity/**/*.test.ts'],
          setupFiles: [...native.setupFiles, 'tests/parity/pollSlowly.ts'],
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
