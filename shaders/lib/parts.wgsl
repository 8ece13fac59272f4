// Written by `npm run shaders` from the tables of src; never by hand.
const PART_BLOCKED = 0u;
const PART_FACE = 1u;
const PART_BEHIND_FACE = 2u;
const PART_FACE_GAP = 3u;
const PART_LENS_GAP = 4u;
const PART_OUTSIDE = 5u;
const FIRST_STRETCH = 6u;
