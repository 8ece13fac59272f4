// Connects the danger reader to this page.
import { openDangerClient } from '../../job/danger/client.ts'
import { createDangerReader } from '../danger/reader.ts'
import { danger } from '../store/danger.ts'
import { missing } from '../store/missing.ts'
import { design, result } from '../store/stores.ts'
import { sweep } from '../store/sweep.ts'
import { tracing } from './tracing.ts'

export const dangerReader = createDangerReader({
  design,
  result,
  danger,
  missing,
  trace: tracing,
  open: openDangerClient,
})

// Only one panel is open at a time.
danger.subscribe((now, before) => now.open && !before.open && sweep.setState({ open: false }))
sweep.subscribe((now, before) => now.open && !before.open && danger.setState({ open: false }))
