// Connects the readings' runner to this page.
import { createReadingsRunner } from '../readings/runner.ts'
import { readings } from '../store/readings.ts'
import { design, result } from '../store/stores.ts'
import { tracing } from './tracing.ts'

export const readingsRunner = createReadingsRunner({
  design,
  result,
  readings,
  trace: tracing,
  open: async (onTrouble) => (await import('../../job/fit/client.ts')).openFitClient(onTrouble),
})
