import { mount } from "svelte";
import "./app.css";
import App from "./App.svelte";
import { backend } from "./lib/backend/backend";
import { askShell } from "./lib/backend/tauri";

const target = document.getElementById("app");
if (!target) throw new Error("index.html has no #app");
mount(App, { target, props: { ask: backend(askShell) } });
