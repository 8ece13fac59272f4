// The range panel at work on this page.
import { openSweepClient } from '../../job/sweep/client.ts'
import { design, result } from '../store/stores.ts'
import { sweep } from '../store/sweep.ts'
import { createSweeping } from '../sweep/runner.ts'
import { tracing } from './tracing.ts'

export const sweeping = createSweeping({ design, result, sweep, trace: tracing, open: openSweepClient })
