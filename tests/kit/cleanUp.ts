// After each file of tests: files of one worker share it and its modules, which saves compiling them again and again.
import { afterAll, vi } from 'vitest'

afterAll(() => {
  vi.useRealTimers()
  vi.unstubAllGlobals()
  vi.restoreAllMocks()
  vi.resetConfig()
})
