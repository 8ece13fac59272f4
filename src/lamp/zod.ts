// zod without code made from text: the page's Content-Security-Policy forbids it, and already zod's question whether it is allowed breaks it.
// The setting must stand before the first schema is made, so every schema takes `z` from here.
import { z } from 'zod'

z.config({ jitless: true })

export { z }
