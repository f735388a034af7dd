"""Woods and grounds as POV-Ray textures: colours are linear RGB."""

# early wood, late wood, ring spacing mm, gloss
WOODS = {
    "cherry": ((0.46, 0.205, 0.092), (0.275, 0.098, 0.038), 2.6, 0.17),
    "pear": ((0.52, 0.30, 0.175), (0.40, 0.205, 0.11), 1.8, 0.22),
    "elm": ((0.43, 0.27, 0.135), (0.235, 0.125, 0.056), 3.6, 0.15),
    "birch": ((0.68, 0.51, 0.315), (0.55, 0.375, 0.205), 2.2, 0.20),
    "beech": ((0.56, 0.35, 0.20), (0.46, 0.265, 0.14), 1.9, 0.16),
    "maple": ((0.66, 0.50, 0.32), (0.56, 0.40, 0.24), 2.4, 0.20),
    "ash": ((0.60, 0.46, 0.29), (0.40, 0.275, 0.155), 4.2, 0.14),
    "oak": ((0.40, 0.25, 0.125), (0.25, 0.145, 0.066), 3.2, 0.12),
    "pine": ((0.62, 0.42, 0.20), (0.42, 0.235, 0.09), 5.0, 0.12),
    "mahogany": ((0.24, 0.085, 0.04), (0.15, 0.048, 0.022), 2.4, 0.22),
    "walnut": ((0.070, 0.040, 0.024), (0.038, 0.021, 0.013), 3.0, 0.12),
}

# colour, depth of the mottle, length of the grain mm, width of the grain mm
GROUNDS = {
    "slate paint": ((0.056, 0.078, 0.082), 0.15, 9, 0.7),
    "blue cloth": ((0.045, 0.062, 0.105), 0.30, 1.2, 1.2),
    "grey board": ((0.118, 0.112, 0.100), 0.16, 1.5, 1.1),
    "green baize": ((0.030, 0.070, 0.045), 0.35, 1.0, 1.0),
    "green card": ((0.026, 0.066, 0.042), 0.07, 2.0, 2.0),
    "navy card": ((0.024, 0.042, 0.090), 0.07, 2.0, 2.0),
    "sky card": ((0.110, 0.180, 0.300), 0.07, 2.0, 2.0),
    "grey card": ((0.066, 0.066, 0.070), 0.07, 2.0, 2.0),
}

# colour, depth of the grain, breadth of a plank mm
PLANKS = {
    "dark bench": ((0.052, 0.037, 0.027), 0.40, 84),
    "brown bench": ((0.085, 0.052, 0.031), 0.38, 112),
    "old bench": ((0.060, 0.046, 0.036), 0.45, 70),
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


def planks(name):
    """Texture of a bench top of planks along x, with open joints."""
    colour, depth, breadth = PLANKS[name]
    dark, light = scaled(colour, 1 - depth), scaled(colour, 1 + depth)
    return f"""texture {{
  pigment {{
    gradient y
    pigment_map {{
      [0 {rgb(scaled(colour, 0.2))}] [0.010 {rgb(scaled(colour, 0.2))}]
      [0.016 average pigment_map {{
        [2 bozo color_map {{ [0.1 {rgb(dark)}] [0.9 {rgb(light)}] }} scale <2.2,0.034,1>]
        [1 bozo color_map {{ [0.1 {rgb(dark)}] [0.9 {rgb(light)}] }} scale <5,0.16,1>]
        [1 bozo color_map {{ [0.2 {rgb(dark)}] [0.8 {rgb(light)}] }} scale <0.9,0.011,1>] }}]
      [1 {rgb(dark)}]
    }}
    warp {{ turbulence <0, 0.015, 0> octaves 2 }}
    scale {breadth} rotate <0,0,0.9> translate <0,{breadth * 0.37},0>
  }}
  finish {{ ambient 0.07 diffuse 0.85 }}
}}"""


def ground(name):
    """Texture of the table."""
    if name in PLANKS:
        return planks(name)
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
