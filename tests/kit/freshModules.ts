// Before each file of tests of the page: its modules hold stores for the whole page, and come new.
import { vi } from 'vitest'

vi.resetModules()
