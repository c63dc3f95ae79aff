/**
 * What the page may load and do, as a Content-Security-Policy: its own scripts, styles, pictures and type, and nothing
 * from anywhere else. It has no connection of its own, since everything it asks for goes over the bridge.
 */
export const CONTENT_POLICY = [
  "default-src 'none'",
  "script-src 'self'",
  "style-src 'self'",
  "img-src 'self' data:",
  "font-src 'self'",
  "connect-src 'none'",
  "base-uri 'none'",
  "form-action 'none'",
  "frame-ancestors 'none'",
].join("; ");
