//! Assets as an MTConnect 2.4 response document.

use geometry::Length;
use shop::book::Moment;

use super::cutter::{CutterAsset, Measurement};
use super::xml::Xml;

/// The namespace of the schema.
const NAMESPACE: &str = "urn:mtconnect.org:MTConnectAssets:2.4";

/// Who answers, and when.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Answerer {
    /// The name of the program that answers.
    pub sender: String,
    /// The device whose assets these are, by the name that nothing else has. Schemas up to 2.2
    /// demand one with each asset, and later ones admit it.
    pub device: String,
    /// When the document is made.
    pub at: Moment,
}

/// The assets as a document, in the order given.
pub fn assets_xml(answerer: &Answerer, assets: &[CutterAsset]) -> String {
    let mut xml = Xml::new();
    xml.open("MTConnectAssets", &[("xmlns", NAMESPACE.to_owned())]);
    let count = assets.len().to_string();
    xml.empty(
        "Header",
        &[
            ("version", "2.4".to_owned()),
            ("creationTime", answerer.at.to_string()),
            // There is one instance for ever: histories only grow, and nothing begins anew.
            ("instanceId", "1".to_owned()),
            ("sender", answerer.sender.clone()),
            ("assetBufferSize", assets.len().max(1).to_string()),
            ("assetCount", count),
            ("deviceModelChangeTime", answerer.at.to_string()),
        ],
    );
    xml.open("Assets", &[]);
    assets.iter().for_each(|asset| cutting_tool(&mut xml, &answerer.device, asset));
    xml.finish()
}

fn cutting_tool(xml: &mut Xml, device: &str, asset: &CutterAsset) {
    xml.open(
        "CuttingTool",
        &[
            ("assetId", asset.id.to_string()),
            ("timestamp", asset.at.to_string()),
            ("deviceUuid", device.to_owned()),
            ("serialNumber", asset.number.clone()),
            ("toolId", name_token(&asset.number)),
        ],
    );
    xml.text("Description", &[], &asset.about);
    life_cycle(xml, asset);
    xml.close();
}

/// The children of CuttingToolLifeCycle come in the schema's order.
fn life_cycle(xml: &mut Xml, asset: &CutterAsset) {
    xml.open("CuttingToolLifeCycle", &[]);
    xml.open("CutterStatus", &[]);
    asset.status.words().into_iter().for_each(|word| xml.text("Status", &[], word));
    xml.close();
    let most = asset.regrinds_max.map(|most| ("maximumCount", most.to_string()));
    let most: Vec<_> = most.into_iter().collect();
    xml.text("ReconditionCount", &most, &asset.regrinds.to_string());
    tool_life(xml, asset);
    xml.open("Measurements", &[]);
    asset.measurements.iter().for_each(|one| measurement(xml, one));
    xml.close();
    xml.close();
}

/// Wear is an offset to nominal in millimetres and always positive, so it counts up. It is not told
/// of a cutter that nobody measured.
fn tool_life(xml: &mut Xml, asset: &CutterAsset) {
    let Some(now) = asset.shrunk.now else { return };
    let mut attributes = vec![("type", "WEAR".to_owned()), ("countDirection", "UP".to_owned())];
    attributes.extend(asset.shrunk.most.map(|most| ("limit", mm(most))));
    attributes.push(("initial", "0".to_owned()));
    xml.text("ToolLife", &attributes, &mm(now));
}

fn measurement(xml: &mut Xml, one: &Measurement) {
    let mut attributes =
        vec![("code", one.code.code().to_owned()), ("units", "MILLIMETER".to_owned())];
    attributes.extend(one.maximum.map(|most| ("maximum", mm(most))));
    attributes.extend(one.minimum.map(|least| ("minimum", mm(least))));
    attributes.push(("nominal", mm(one.nominal)));
    match one.value {
        Some(value) => xml.text(one.code.element(), &attributes, &mm(value)),
        None => xml.empty(one.code.element(), &attributes),
    }
}

/// A number as the name of a tool, which holds letters, digits and a few marks only.
fn name_token(number: &str) -> String {
    let may_stand = |letter: char| letter.is_ascii_alphanumeric() || "._-:".contains(letter);
    let token = |letter: char| if may_stand(letter) { letter } else { '_' };
    number.chars().map(token).collect()
}

/// Millimetres to a tenth of a micrometre, which no shop measures.
fn mm(length: Length) -> String {
    let text = format!("{:.4}", length.mm());
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}
