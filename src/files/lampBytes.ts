/** Larger than any lamp within the schema's limits, as text, in bytes. */
export const LAMP_BYTES = 64 * 1024 * 1024
