// Revision of the scoring engine: goes up whenever the same recording could score differently.
export const ENGINE_REVISION = '5';
