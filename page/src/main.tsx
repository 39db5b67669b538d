import { render } from "preact";
import "./font.css";
import "./style.css";
import { App } from "./ui/app";
import { connect } from "./ui/link";
import { remember } from "./ui/remember";

const root = document.getElementById("page");
if (root) render(<App />, root);
remember();
connect();
