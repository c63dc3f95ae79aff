import { join } from "node:path";
import { app, BrowserWindow, screen } from "electron";
import { PAGE_ADDRESS } from "./pageAddress.ts";
import { keepPlace, onScreen, readPlace, SMALLEST } from "./windowPlace.ts";

/** A page that fell over is drawn anew, but not for ever: the host goes on recording either way. */
const REVIVALS = 3;

/** Opens the one window, where it last was; it loads its page once `beforeLoad` has had the chance to listen to it. */
export function openBenchWindow(beforeLoad: (window: BrowserWindow) => void): BrowserWindow {
  const placeFile = join(app.getPath("userData"), "window-place.json");
  const place = onScreen(
    readPlace(placeFile),
    screen.getAllDisplays().map((display) => display.workArea),
  );
  const { maximized, fullScreen, ...bounds } = place;
  const window = new BrowserWindow({
    ...bounds,
    minWidth: SMALLEST.width,
    minHeight: SMALLEST.height,
    show: false,
    title: "Borewright",
    autoHideMenuBar: true,
    webPreferences: {
      preload: join(__dirname, "preload.cjs"),
      contextIsolation: true,
      sandbox: true,
      nodeIntegration: false,
      nodeIntegrationInWorker: false,
      nodeIntegrationInSubFrames: false,
      webSecurity: true,
      allowRunningInsecureContent: false,
      webviewTag: false,
      // A session dropped on the window is for the page to take, never an address to go to.
      navigateOnDragDrop: false,
      devTools: !app.isPackaged,
      spellcheck: false,
      // Tones must sound before anyone has touched the screen, and while another window lies on top.
      autoplayPolicy: "no-user-gesture-required",
      backgroundThrottling: false,
    },
  });
  if (maximized) window.maximize();
  if (fullScreen) window.setFullScreen(true);
  window.once("ready-to-show", () => window.show());
  window.on("close", () => {
    keepPlace(placeFile, {
      ...window.getNormalBounds(),
      maximized: window.isMaximized(),
      fullScreen: window.isFullScreen(),
    });
  });
  let revivals = 0;
  window.webContents.on("render-process-gone", (_event, details) => {
    if (details.reason === "clean-exit" || revivals >= REVIVALS || window.isDestroyed()) return;
    revivals += 1;
    window.webContents.reload();
  });
  beforeLoad(window);
  void window.loadURL(PAGE_ADDRESS);
  return window;
}
