import { connect } from "./bridge/connect.ts";
import { mountApp } from "./mountApp.tsx";

mountApp(connect);
