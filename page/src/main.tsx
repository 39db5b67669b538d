import { render } from "preact";
import "./font.css";
import "./style/base.css";
import "./style/sheet.css";
import "./style/drawing.css";
import "./style/year.css";
import "./style/screens.css";
import { App } from "./ui/app";
import { connect } from "./ui/link";
import { remember } from "./ui/remember";

const root = document.getElementById("page");
if (root) render(<App />, root);
remember();
connect();
