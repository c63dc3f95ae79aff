/** The page asks, the host answers with an envelope: method and input up, one answer down. */
export const CALL_CHANNEL = "borewright:call";
/** The host tells the page what happened; nothing goes up on it. */
export const EVENT_CHANNEL = "borewright:event";
