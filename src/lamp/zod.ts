// zod without code made from text: the page's Content-Security-Policy forbids it, and already zod's question whether it is allowed breaks it.
// The setting must stand before the first schema is made, so every schema takes zod from here: `import * as z`, which leaves out what is not
// used of it (its messages in fifty languages are as large as all our physics).
import { config } from 'zod'

config({ jitless: true })

export * from 'zod'
