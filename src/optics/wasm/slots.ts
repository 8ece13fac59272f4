/** Fixed addresses, bytes: memory.as has the same. */
export const RAY_AT = 1024
export const STREAM_AT = 1280
export const POINT_AT = 1312
export const PARAMS_AT = 1408
/** The sides of a polygon lie below the tables, and so many find room. */
export const SIDES_MOST = 1024
/** Tables begin here. */
export const TABLES_AT = 65_536
