// Connects the sweep runner to this page.
import { openSweepClient } from '../../job/sweep/client.ts'
import { browserKeyValue } from '../store/keyValue.ts'
import { design, result } from '../store/stores.ts'
import { sweep } from '../store/sweep.ts'
import { createSweepMemory } from '../sweep/memory.ts'
import { createSweepRunner } from '../sweep/runner.ts'
import { tracing } from './tracing.ts'

export const sweepRunner = createSweepRunner({
  design,
  result,
  sweep,
  trace: tracing,
  memory: createSweepMemory(browserKeyValue('lampwright-sweep')),
  open: openSweepClient,
})
