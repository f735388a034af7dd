"""Woods and grounds as POV-Ray textures: colours are linear RGB."""

# early wood, late wood, ring spacing mm, gloss
WOODS = {
    "cherry": ((0.46, 0.205, 0.092), (0.275, 0.098, 0.038), 2.6, 0.17),
    "pear": ((0.52, 0.30, 0.175), (0.40, 0.205, 0.11), 1.8, 0.22),
    "elm": ((0.43, 0.27, 0.135), (0.235, 0.125, 0.056), 3.6, 0.15),
    "birch": ((0.68, 0.51, 0.315), (0.55, 0.375, 0.205), 2.2, 0.20),
}

# colour, depth of the mottle, length of the grain mm, width of the grain mm
GROUNDS = {
    "slate paint": ((0.056, 0.078, 0.082), 0.15, 9, 0.7),
    "blue cloth": ((0.045, 0.062, 0.105), 0.30, 1.2, 1.2),
    "grey board": ((0.118, 0.112, 0.100), 0.16, 1.5, 1.1),
    "green baize": ((0.030, 0.070, 0.045), 0.35, 1.0, 1.0),
}


def rgb(c):
    return "rgb <%.4f, %.4f, %.4f>" % tuple(c)


def scaled(c, k):
    return tuple(v * k for v in c)


def wood(name, offset):
    """Texture of a piece turned from a billet whose pith lies aside; offset (x, y, z) mm places the billet, its pith at
    y, z; POV-Ray's noise has a faint seam every 45 ring spacings from x, best laid where a step hides it."""
    early, late, ring, gloss = WOODS[name]
    middle = tuple(0.6 * a + 0.4 * b for a, b in zip(early, late))
    # Local z of the wood pattern becomes x; the shear lets the rings run out along the piece.
    along = f"matrix <0,1,0, 0,0,1, 1,0.012,-0.03, {offset[0]},{offset[1]},{offset[2]}>"
    return f"""texture {{
  pigment {{
    average
    pigment_map {{
      [2 wood warp {{ turbulence 0.22 octaves 3 omega 0.45 }}
         color_map {{ [0 {rgb(early)}] [0.55 {rgb(middle)}] [0.86 {rgb(late)}] [1 {rgb(early)}] }}
         scale <{ring},{ring},{ring * 45}> {along}]
      [1 granite color_map {{ [0 {rgb(scaled(late, 0.6))}] [0.35 {rgb(middle)}] [1 {rgb(scaled(early, 1.1))}] }}
         scale <26,1.3,1.3>]
      [1 bozo color_map {{ [0 {rgb(scaled(early, 0.88))}] [1 {rgb(scaled(early, 1.12))}] }} scale <70,9,9>]
    }}
  }}
  finish {{ ambient 0.06 diffuse 0.82 specular {gloss} roughness 0.05 }}
}}"""


def ground(name):
    """Texture of the table."""
    colour, depth, along, across = GROUNDS[name]
    dark, light = scaled(colour, 1 - depth), scaled(colour, 1 + depth)
    return f"""texture {{
  pigment {{
    average
    pigment_map {{
      [2 granite color_map {{ [0.1 {rgb(dark)}] [0.6 {rgb(light)}] }} scale <{along},{across},{across}> * 4]
      [1 bozo color_map {{ [0 {rgb(dark)}] [1 {rgb(light)}] }} scale <150,60,60>]
    }}
  }}
  finish {{ ambient 0.07 diffuse 0.85 }}
}}"""


def plain(colour, gloss=0.0):
    """Texture of one colour."""
    return f"texture {{ pigment {{ {rgb(colour)} }} finish {{ ambient 0.07 diffuse 0.86 specular {gloss} roughness 0.06 }} }}"
