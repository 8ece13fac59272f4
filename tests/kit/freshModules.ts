// Before each file of tests. Files of one worker share its modules, which saves compiling them again and again; those of the page hold stores
// for the whole page, and get them new.
import { afterAll, expect, vi } from 'vitest'

if (expect.getState().testPath?.includes('/tests/app/')) vi.resetModules()

afterAll(() => {
  vi.useRealTimers()
  vi.unstubAllGlobals()
  vi.restoreAllMocks()
  vi.resetConfig()
})
