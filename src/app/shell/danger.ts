// Connects the danger reader to this page.
import { openDangerClient } from '../../job/danger/client.ts'
import { createDangerReader } from '../danger/reader.ts'
import { danger } from '../store/danger.ts'
import { missing } from '../store/missing.ts'
import { design, result } from '../store/stores.ts'
import { tracing } from './tracing.ts'

export const dangerReader = createDangerReader({
  design,
  result,
  danger,
  missing,
  trace: tracing,
  open: openDangerClient,
})
