//! The forms of a page, as a browser sends them when its button is pressed.

/// A form with what it holds.
pub(crate) struct Form {
    /// Where it is sent to.
    pub(crate) to: String,
    /// Names and values, written as a form sends them.
    pub(crate) sent: String,
}

/// The forms of a page that are posted, each as one of its buttons sends it.
pub(crate) fn of_page(page: &str) -> Vec<Form> {
    let mut forms = Vec::new();
    for behind in page.split("<form").skip(1) {
        let Some((head, rest)) = behind.split_once('>') else { continue };
        let inside = rest.split("</form>").next().unwrap_or(rest);
        let (fields, buttons) = (fields(inside), buttons(inside));
        let is_posted = within(head, "method").as_deref() == Some("post");
        let to = within(head, "action").filter(|_| is_posted);
        let own = buttons.iter().map(|button| (to.clone(), button));
        // A button elsewhere on the page may belong to this form and send it somewhere else.
        let away = elsewhere(page, within(head, "id").as_deref());
        let away = away.iter().map(|button| (within(button, "formaction"), button));
        for (to, button) in own.chain(away) {
            let Some(to) = to else { continue };
            let pressed = within(button, "name")
                .map(|name| (name, within(button, "value").unwrap_or_default()));
            let pairs = fields.iter().cloned().chain(pressed);
            let pairs = pairs.map(|(name, value)| format!("{}={}", coded(&name), coded(&value)));
            forms.push(Form { to, sent: pairs.collect::<Vec<_>>().join("&") });
        }
    }
    forms
}

/// Buttons of a page that name a form by its id.
fn elsewhere(page: &str, id: Option<&str>) -> Vec<String> {
    let Some(id) = id else { return Vec::new() };
    let all = tags(page, "<button").into_iter();
    all.filter(|button| within(button, "form").as_deref() == Some(id)).collect()
}

/// The buttons inside a form that send it where the form says.
fn buttons(inside: &str) -> Vec<String> {
    let sends =
        |tag: &String| !tag.contains("type=\"button\"") && within(tag, "formaction").is_none();
    tags(inside, "<button").into_iter().filter(sends).collect()
}

/// Names and values of the fields of a form.
fn fields(inside: &str) -> Vec<(String, String)> {
    let mut fields = Vec::new();
    for tag in tags(inside, "<input") {
        let kind = within(&tag, "type").unwrap_or_default();
        let is_sent = match kind.as_str() {
            "checkbox" | "radio" => tag.contains(" checked"),
            "file" | "submit" | "button" => false,
            _ => true,
        };
        if let (true, Some(name)) = (is_sent, within(&tag, "name")) {
            fields.push((name, within(&tag, "value").unwrap_or_default()));
        }
    }
    for (tag, held) in pieces(inside, "<select", "</select>") {
        let options = tags(held, "<option");
        let chosen = options.iter().find(|option| option.contains(" selected"));
        let value = chosen.or(options.first()).and_then(|option| within(option, "value"));
        fields.extend(within(&tag, "name").map(|name| (name, value.unwrap_or_default())));
    }
    for (tag, held) in pieces(inside, "<textarea", "</textarea>") {
        let text = plain(held.strip_prefix('\n').unwrap_or(held)).replace('\n', "\r\n");
        fields.extend(within(&tag, "name").map(|name| (name, text)));
    }
    fields
}

/// What stands in the tags of one kind, without the mark that closes them.
fn tags(text: &str, kind: &str) -> Vec<String> {
    let behind = text.split(kind).skip(1);
    behind.filter_map(|tag| tag.split('>').next().map(str::to_owned)).collect()
}

/// Tags of one kind with what stands between them and their end.
fn pieces<'a>(text: &'a str, kind: &str, end: &str) -> Vec<(String, &'a str)> {
    let behind = text.split(kind).skip(1);
    let piece = |piece: &'a str| {
        let (tag, rest) = piece.split_once('>')?;
        Some((tag.to_owned(), rest.split(end).next().unwrap_or(rest)))
    };
    behind.filter_map(piece).collect()
}

/// The value of an attribute.
fn within(tag: &str, key: &str) -> Option<String> {
    let behind = tag.split_once(&format!(" {key}=\""))?.1;
    Some(plain(behind.split('"').next()?))
}

/// Text with its marks as they are read.
fn plain(text: &str) -> String {
    let marks = [("&#34;", "\""), ("&#39;", "'"), ("&#60;", "<"), ("&#62;", ">"), ("&quot;", "\"")];
    let marks = marks.into_iter().chain([("&lt;", "<"), ("&gt;", ">"), ("&#38;", "&")]);
    let all = marks.chain([("&amp;", "&")]);
    all.fold(text.to_owned(), |text, (mark, sign)| text.replace(mark, sign))
}

/// Text as a form writes it.
pub(crate) fn coded(text: &str) -> String {
    let sign = |byte: u8| match byte {
        b' ' => "+".to_owned(),
        byte if byte.is_ascii_alphanumeric() || b"-_.*".contains(&byte) => {
            char::from(byte).to_string()
        }
        byte => format!("%{byte:02X}"),
    };
    text.bytes().map(sign).collect()
}
