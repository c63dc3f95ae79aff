export const PAGE_SCHEME = "app";
const PAGE_HOST = "borewright";

/** Where the window's page is; its files are served by `servePage`, never read by the page itself. */
export const PAGE_ADDRESS = `${PAGE_SCHEME}://${PAGE_HOST}/index.html`;

/** True for an address of the window's own page and its files; false for every other one and for what is no address. */
export function isPageAddress(address: string): boolean {
  if (!URL.canParse(address)) return false;
  const url = new URL(address);
  return url.protocol === `${PAGE_SCHEME}:` && url.host === PAGE_HOST && url.username === "" && url.password === "";
}
