import { join } from "node:path";
import { app, BrowserWindow, dialog, ipcMain, Menu, powerSaveBlocker, protocol, session } from "electron";
import { hostFolder } from "../host/hostFolder.ts";
import { HostService } from "../host/hostService.ts";
import { createSimulatedBench } from "../simulator/simulatedPorts.ts";
import { openBenchWindow } from "./benchWindow.ts";
import { carryCalls, carryEvents } from "./carryBridge.ts";
import { filesAmong, GivenFiles, type ToldAtStart } from "./givenFiles.ts";
import { closeBeforeLeaving } from "./leaving.ts";
import { lockAllContents, lockSession } from "./lockDown.ts";
import { menuTemplate } from "./menu.ts";
import { PAGE_SCHEME } from "./pageAddress.ts";
import { ReportPrinter } from "./reportPrinter.ts";
import { servePage } from "./servePage.ts";
import { stayAwake } from "./stayAwake.ts";

let window: BrowserWindow | null = null;

const show = () => {
  if (window === null) return;
  if (window.isMinimized()) window.restore();
  window.focus();
};

async function start(): Promise<void> {
  const printer = new ReportPrinter({ BrowserWindow, dialog, window: () => window });
  const host = await HostService.open({
    shell: "window",
    folder: hostFolder(),
    simulation: createSimulatedBench,
    writeReportPdf: printer.write,
  });
  lockSession(session.defaultSession);
  const pageFiles = servePage(join(__dirname, "../renderer"));
  protocol.handle(PAGE_SCHEME, (request) => printer.answer(request) ?? pageFiles(request));
  carryCalls(ipcMain, host, () => window);
  stayAwake(host, powerSaveBlocker);
  Menu.setApplicationMenu(Menu.buildFromTemplate(menuTemplate()));

  window = openBenchWindow((opening) => {
    carryEvents(host, opening);
    // After the page listens to the host, so that it hears of them.
    opening.webContents.once("dom-ready", () => given.to((path) => void host.give(path)));
  });
  window.on("closed", () => {
    window = null;
  });
  closeBeforeLeaving(app, dialog, host, window);
}

// The scheme's rights must be stated before the program is ready: an origin of its own, and strict.
protocol.registerSchemesAsPrivileged([
  { scheme: PAGE_SCHEME, privileges: { standard: true, secure: true, supportFetchAPI: true, codeCache: true } },
]);
app.enableSandbox();
lockAllContents(app);

const files = filesAmong(process.argv.slice(1), process.cwd());
const given = new GivenFiles(app, files);
if (app.requestSingleInstanceLock({ files } satisfies ToldAtStart)) {
  app.on("second-instance", show);
  app.on("window-all-closed", () => app.quit());
  app
    .whenReady()
    .then(start)
    .catch((error: unknown) => {
      dialog.showErrorBox("Borewright could not start", error instanceof Error ? error.message : String(error));
      app.exit(1);
    });
} else {
  app.quit();
}
